# Completion of holdwell for bash.

_holdwell() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command= i
    for ((i = 1; i < COMP_CWORD; i++)); do
        case ${COMP_WORDS[i]} in
        measure | coach | devices | plan | client | practice | export | import | report | records)
            command=${COMP_WORDS[i]} && break
            ;;
        esac
    done
    local verb=
    case ${COMP_WORDS[i + 1]} in
    check | show | templates | new | list | add | archive | restore | delete | plan | practices | table)
        ((i + 1 < COMP_CWORD)) && verb=${COMP_WORDS[i + 1]}
        ;;
    esac

    local choices=
    case $before in
    --drill) choices="any hold s z glide-up glide-down" ;;
    --format) choices="text json csv" ;;
    --only) choices="not-practised near-goal discomfort" ;;
    --target | --note) choices="C3 D3 E3 F3 G3 C4 D4 E4 F4 G4" ;;
    --file | --demo | --example | --plan | --data | --out | --passphrase-file)
        COMPREPLY=($(compgen -f -- "$word"))
        return
        ;;
    --band | --bridge | --shortest | --jobs | --goal | --trials) return ;;
    --client | --day-one | --from | --until | --name) return ;;
    *)
        case $command in
        measure) choices="--drill --target --band --bridge --shortest --format --frames --jobs --help" ;;
        coach) choices="--note --band --goal --trials --silent --file --fast --plan --fit --data --help" ;;
        devices) choices="--help" ;;
        plan) choices="${verb:+--client --format --data --help}" ;;
        client) choices="${verb:+--all --only --yes --format --data --help}" ;;
        practice) choices="${verb:+--client --format --data --help}" ;;
        export) choices="${verb:+--client --out --day-numbers --with-voice --passphrase-file --data --help}" ;;
        import) choices="--yes --client --day-one --passphrase-file --data --help" ;;
        report) choices="--client --from --until --name --day-numbers --out --data --help" ;;
        records) choices="--data --help" ;;
        *) choices="measure coach devices plan client practice export import report records
            --demo --example --version --help" ;;
        esac
        case $command$verb in
        plan) choices="check show templates new --help" ;;
        client) choices="list add archive restore delete --help" ;;
        practice) choices="list --help" ;;
        export) choices="plan practices table --help" ;;
        esac
        if [[ ($command = measure || $command = import || $verb = check || $verb = show) && $word != -* ]]; then
            COMPREPLY=($(compgen -f -- "$word"))
            return
        fi
        ;;
    esac
    COMPREPLY=($(compgen -W "$choices" -- "$word"))
}
complete -o filenames -F _holdwell holdwell
