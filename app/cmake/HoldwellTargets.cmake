# One library per folder, with our warnings; the libraries it names are all that it may include.

add_library(holdwell_warnings INTERFACE)
target_compile_options(holdwell_warnings INTERFACE
    -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow -Wold-style-cast
    -Wnon-virtual-dtor -Woverloaded-virtual -Wimplicit-fallthrough
    $<$<BOOL:${HOLDWELL_WERROR}>:-Werror>)
target_include_directories(holdwell_warnings INTERFACE ${CMAKE_SOURCE_DIR})
if(HOLDWELL_SANITIZE)
    add_compile_options(-fsanitize=${HOLDWELL_SANITIZE} -fno-omit-frame-pointer)
    add_link_options(-fsanitize=${HOLDWELL_SANITIZE})
endif()

# holdwell_library(NAME [LIBRARY ...]): every .cpp beside the calling CMakeLists.txt.
function(holdwell_library name)
    file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
    add_library(${name} STATIC ${sources})
    target_link_libraries(${name} PUBLIC holdwell_warnings ${ARGN})
endfunction()
