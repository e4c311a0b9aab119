#include "app/cli/interrupt.h"

#include <csignal>

namespace holdwell {

namespace {

volatile std::sig_atomic_t noticed = 0;  // all that a signal may touch

extern "C" void notice(int signal)
{
    noticed = 1;
    // A closing terminal may say so twice: itself, and through the shell.
    if (signal == SIGINT) std::signal(signal, SIG_DFL);
}

}  // namespace

InterruptWatch::InterruptWatch()
    : before_{std::signal(SIGINT, notice)}, before_hang_up_{std::signal(SIGHUP, notice)}
{
    if (before_hang_up_ == SIG_IGN) std::signal(SIGHUP, SIG_IGN);  // as nohup asks
    noticed = 0;
}

InterruptWatch::~InterruptWatch()
{
    std::signal(SIGINT, before_);
    std::signal(SIGHUP, before_hang_up_);
}

bool InterruptWatch::interrupted() const { return noticed != 0; }

}  // namespace holdwell
