#include "tests/bench/hold_method.h"

namespace holdwell::bench {

Heard heard_in(const test::ScriptedTake& take, const ListeningTask& task)
{
    Listener listener{{.sample_rate = take.rate}, task};
    listener.push(take.samples);
    listener.finish();
    return listener.take_finished();
}

std::vector<test::HeardHold> holds_heard_in(const test::ScriptedTake& take,
                                            const ListeningTask& task)
{
    std::vector<test::HeardHold> holds;
    for (const Hold& h : heard_in(take, task).holds) {
        test::HeardHold one{time_of(h.onset, take.rate), time_of(h.offset, take.rate), {}};
        for (const Interruption& i : h.interruptions) one.gaps.push_back(i.duration);
        holds.push_back(one);
    }
    return holds;
}

}  // namespace holdwell::bench
