#include "app/cli/interrupt.h"

#include <csignal>

namespace holdwell {

namespace {

volatile std::sig_atomic_t noticed = 0;  // all that a signal may touch

extern "C" void notice(int signal)
{
    noticed = 1;
    std::signal(signal, SIG_DFL);
}

}  // namespace

InterruptWatch::InterruptWatch() : before_{std::signal(SIGINT, notice)} { noticed = 0; }

InterruptWatch::~InterruptWatch() { std::signal(SIGINT, before_); }

bool InterruptWatch::interrupted() const { return noticed != 0; }

}  // namespace holdwell
