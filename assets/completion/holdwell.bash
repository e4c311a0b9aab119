# Completion of holdwell for bash.

_holdwell() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command= i
    for ((i = 1; i < COMP_CWORD; i++)); do
        case ${COMP_WORDS[i]} in
        measure | coach | devices) command=${COMP_WORDS[i]} && break ;;
        esac
    done

    local choices=
    case $before in
    --drill) choices="any hold s z glide-up glide-down" ;;
    --format) choices="text json csv" ;;
    --target | --note) choices="C3 D3 E3 F3 G3 C4 D4 E4 F4 G4" ;;
    --file | --demo)
        COMPREPLY=($(compgen -f -- "$word"))
        return
        ;;
    --band | --bridge | --shortest | --jobs | --goal | --trials) return ;;
    *)
        case $command in
        measure) choices="--drill --target --band --bridge --shortest --format --frames --jobs --help" ;;
        coach) choices="--note --band --goal --trials --silent --file --fast --plan --fit --data --help" ;;
        devices) choices="--help" ;;
        *) choices="measure coach devices --demo --example --version --help" ;;
        esac
        if [[ $command = measure && $word != -* ]]; then
            COMPREPLY=($(compgen -f -- "$word"))
            return
        fi
        ;;
    esac
    COMPREPLY=($(compgen -W "$choices" -- "$word"))
}
complete -o filenames -F _holdwell holdwell
