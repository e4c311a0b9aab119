# Compiles the files of a library several at a time: a third of the work, as headers are read and
# templates written out once for all of them. For the sanitizers only: the release build compiles
# each file by itself, so that each must include what it uses.
#
# Files may keep private things of the same name. Those that do come into different groups.

option(HOLDWELL_GROUPED "Compile the files of a library several at a time" OFF)

# names_in(OUT FILE): what a file defines outside of functions, told by beginning in the first
# column: the last word before the first bracket, equals sign or semicolon.
function(names_in out file)
    file(STRINGS ${file} lines REGEX "^[A-Za-z].*[^:A-Za-z0-9_][A-Za-z_][A-Za-z0-9_]* *[({=[;]")
    set(names)
    foreach(line IN LISTS lines)
        if(NOT line MATCHES "^(namespace|using namespace|template) ?" AND
           line MATCHES "^[^({=;[]*[^:A-Za-z0-9_]([A-Za-z_][A-Za-z0-9_]*) *[({=;[]")
            list(APPEND names ${CMAKE_MATCH_1})
        endif()
    endforeach()
    set(${out} ${names} PARENT_SCOPE)
endfunction()

# holdwell_group(FILE ...): each file goes into the first group that has room and none of its names.
function(holdwell_group)
    set(room 12)
    foreach(file IN LISTS ARGN)
        names_in(names ${file})
        set(group 0)
        set(fits NO)
        while(NOT fits)
            math(EXPR group "${group} + 1")
            set(fits YES)
            list(LENGTH files_${group} size)
            if(size GREATER_EQUAL room)
                set(fits NO)
            endif()
            foreach(name IN LISTS names)
                if(name IN_LIST names_${group})
                    set(fits NO)
                    break()
                endif()
            endforeach()
        endwhile()
        list(APPEND files_${group} ${file})
        list(APPEND names_${group} ${names})
        set_source_files_properties(${file} PROPERTIES UNITY_GROUP group_${group})
    endforeach()
endfunction()
