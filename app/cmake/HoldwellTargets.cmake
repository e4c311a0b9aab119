# One library per folder, with our warnings; the libraries it names are all that it may include.

include(HoldwellGroups)

add_library(holdwell_warnings INTERFACE)
target_compile_options(holdwell_warnings INTERFACE
    -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow -Wold-style-cast
    -Wnon-virtual-dtor -Woverloaded-virtual -Wimplicit-fallthrough
    $<$<BOOL:${HOLDWELL_WERROR}>:-Werror>)
# g++ 12 takes copies of optionals and variants for uninitialised, sums of strings for overlapping
# (GCC bugs 105562, 105329). Clang and the sanitizers look at the same code.
if(CMAKE_CXX_COMPILER_ID STREQUAL GNU AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
    target_compile_options(holdwell_warnings INTERFACE -Wno-maybe-uninitialized -Wno-restrict)
endif()
target_include_directories(holdwell_warnings INTERFACE ${CMAKE_SOURCE_DIR})
if(HOLDWELL_SANITIZE)
    add_compile_options(-fsanitize=${HOLDWELL_SANITIZE} -fno-omit-frame-pointer)
    add_link_options(-fsanitize=${HOLDWELL_SANITIZE})
endif()

# holdwell_computes(NAME): the inner loops of this library are plain sums over floats; -O3 lets the
# compiler use vector registers for them. Under the sanitizers, which are used with -O0 because it
# builds in half the time, they are the one part that would run too slowly.
function(holdwell_computes name)
    target_compile_options(${name} PRIVATE $<$<CONFIG:Release,RelWithDebInfo>:-O3>)
    holdwell_hurries(${name})
endfunction()

# holdwell_hurries(NAME): fast enough for real time under the sanitizers, too.
function(holdwell_hurries name)
    if(HOLDWELL_SANITIZE)
        target_compile_options(${name} PRIVATE -O2)
    endif()
endfunction()

# holdwell_library(NAME [LIBRARY ...]): every .cpp beside the calling CMakeLists.txt.
function(holdwell_library name)
    file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
    if(HOLDWELL_GROUPED)
        holdwell_group(${sources})
    endif()
    add_library(${name} STATIC ${sources})
    target_link_libraries(${name} PUBLIC holdwell_warnings ${ARGN})
    if(HOLDWELL_GROUPED)
        set_target_properties(${name} PROPERTIES UNITY_BUILD ON UNITY_BUILD_MODE GROUP)
    endif()
endfunction()
