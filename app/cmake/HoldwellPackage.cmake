# Installation (cmake --install) and the Debian package (cpack -G DEB).

set(assets ${CMAKE_SOURCE_DIR}/assets)

# install_if_there(DESTINATION FILE ...): those of the files that exist.
function(install_if_there destination)
    foreach(file ${ARGN})
        if(EXISTS ${file})
            install(FILES ${file} DESTINATION ${destination})
        endif()
    endforeach()
endfunction()

install_if_there(${CMAKE_INSTALL_DATADIR}/applications ${assets}/holdwell.desktop)
install_if_there(${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps ${assets}/holdwell.svg)
install_if_there(${CMAKE_INSTALL_DATADIR}/pixmaps ${assets}/holdwell.png)
install_if_there(${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions ${assets}/completion/_holdwell)
install_if_there(${CMAKE_INSTALL_DOCDIR} ${assets}/copyright ${CMAKE_SOURCE_DIR}/README.md)
install(FILES ${assets}/completion/holdwell.bash RENAME holdwell
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
file(GLOB sessions LIST_DIRECTORIES false CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/demo-sessions/*)
install(FILES ${sessions} DESTINATION ${CMAKE_INSTALL_DATADIR}/holdwell/demo-sessions)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/demo-sessions/clients
        DESTINATION ${CMAKE_INSTALL_DATADIR}/holdwell/demo-sessions)

# Plans to begin from, and what a plan file may hold.
file(GLOB plans CONFIGURE_DEPENDS ${assets}/plans/*.json)
install(FILES ${plans} DESTINATION ${CMAKE_INSTALL_DATADIR}/holdwell/plans)
install_if_there(${CMAKE_INSTALL_DATADIR}/holdwell ${assets}/plan.schema.json
    ${assets}/practices.schema.json)

# The manual page and the list of changes are kept compressed.
find_program(GZIP gzip)
set(compressed)
foreach(file holdwell.1 changelog)
    set(kept ${CMAKE_BINARY_DIR}/${file})
    if(GZIP)
        set(kept ${CMAKE_BINARY_DIR}/${file}.gz)
        add_custom_command(OUTPUT ${kept} DEPENDS ${assets}/${file}
            COMMAND ${CMAKE_COMMAND} -E copy ${assets}/${file} ${CMAKE_BINARY_DIR}/${file}
            COMMAND ${GZIP} -9nf ${CMAKE_BINARY_DIR}/${file} VERBATIM)
    else()
        configure_file(${assets}/${file} ${kept} COPYONLY)
    endif()
    list(APPEND compressed ${kept})
endforeach()
add_custom_target(holdwell_manual ALL DEPENDS ${compressed})
list(GET compressed 0 manual)
list(GET compressed 1 changes)
install(FILES ${manual} DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${changes} DESTINATION ${CMAKE_INSTALL_DOCDIR})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME holdwell)
set(CPACK_PACKAGE_VENDOR "Holdwell")
set(CPACK_PACKAGE_CONTACT "The Holdwell authors <holdwell@example.org>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "pitch and duration coach for home voice practice")
set(CPACK_PACKAGE_DESCRIPTION
"A voice therapist prescribes sustained notes and glides; the client practises
them at home. Holdwell plays the note, listens while it is held, and shows how
near it is and how long it lasts. It also measures recordings.")
set(CPACK_RESOURCE_FILE_LICENSE ${CMAKE_SOURCE_DIR}/LICENSE)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION sound)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# What is found while running rather than linked: typefaces, the way to the desktop's sound server.
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "fonts-inter, fonts-dejavu-core, libasound2-plugins")
include(CPack)
