#include "app/cli/interrupt.h"

#include <atomic>
#include <csignal>

namespace holdwell {

namespace {

// A signal may come on any thread, and may touch no more than this.
std::atomic<bool> noticed{false};
static_assert(std::atomic<bool>::is_always_lock_free);

extern "C" void notice(int signal)
{
    noticed = true;
    // A closing terminal may say so twice: itself, and through the shell.
    if (signal == SIGINT) std::signal(signal, SIG_DFL);
}

}  // namespace

InterruptWatch::InterruptWatch()
    : before_{std::signal(SIGINT, notice)}, before_hang_up_{std::signal(SIGHUP, notice)}
{
    if (before_hang_up_ == SIG_IGN) std::signal(SIGHUP, SIG_IGN);  // as nohup asks
    noticed = false;
}

InterruptWatch::~InterruptWatch()
{
    std::signal(SIGINT, before_);
    std::signal(SIGHUP, before_hang_up_);
}

bool InterruptWatch::interrupted() const { return noticed; }

}  // namespace holdwell
