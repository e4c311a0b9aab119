#include "tests/app/store/forced_writes.h"

#include <sys/syscall.h>
#include <unistd.h>

#include <atomic>

namespace {
std::atomic<int> count{0};
}

// Takes the place of the C library's in this program, for SQLite too.
extern "C" int fdatasync(int descriptor)
{
    ++count;
    return static_cast<int>(::syscall(SYS_fdatasync, descriptor));
}

namespace holdwell::test {

int forced_writes() { return count; }

}  // namespace holdwell::test
