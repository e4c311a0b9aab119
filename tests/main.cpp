#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>

// What fontconfig reads once it keeps until the program ends, by pointers that the leak check
// cannot follow; drawing text through Pango gives no way to have it handed back. Read by the
// sanitizers alone, under this name.
// NOLINTBEGIN(bugprone-reserved-identifier)
extern "C" const char* __lsan_default_suppressions();
extern "C" const char* __lsan_default_suppressions() { return "leak:libfontconfig.so\n"; }
// NOLINTEND(bugprone-reserved-identifier)
