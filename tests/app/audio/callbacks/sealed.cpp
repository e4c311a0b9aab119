#include "tests/app/audio/callbacks/sealed.h"

#include <linux/seccomp.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

namespace holdwell::test {

SealedEnd run_sealed(void (*function)(void*), void* argument)
{
    constexpr int kRefused = 9;
    const pid_t child = fork();
    if (child < 0) return SealedEnd::unsealed;
    if (child == 0) {
        if (prctl(PR_SET_SECCOMP, SECCOMP_MODE_STRICT) != 0) _exit(kRefused);
        function(argument);
        syscall(SYS_exit, 0);  // _exit would call exit_group, which is not allowed any more
    }
    int status = 0;
    if (waitpid(child, &status, 0) != child) return SealedEnd::unsealed;
    if (WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL) return SealedEnd::killed;
    const bool has_returned = WIFEXITED(status) && WEXITSTATUS(status) == 0;
    return has_returned ? SealedEnd::returned : SealedEnd::unsealed;
}

}  // namespace holdwell::test
