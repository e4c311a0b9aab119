#include "tests/support/hold_score.h"

#include <algorithm>

namespace holdwell::test {

namespace {

Seconds overlap(const HeardHold& h, const TrueHold& t)
{
    return std::min(h.offset, t.offset) - std::max(h.onset, t.onset);
}

void append(std::vector<double>& to, const std::vector<double>& from)
{
    to.insert(to.end(), from.begin(), from.end());
}

void judge(const HeardHold& heard, const TrueHold& truth, HoldErrors& errors)
{
    const auto ms = [](Seconds s) { return 1000.0 * s.count(); };
    errors.onset_ms.push_back(ms(heard.onset - truth.onset));
    errors.offset_ms.push_back(ms(heard.offset - truth.offset));
    errors.duration_ms.push_back(errors.offset_ms.back() - errors.onset_ms.back());
    const auto long_enough = [](Seconds gap) { return gap >= 40ms; };
    const auto true_gaps = static_cast<int>(std::ranges::count_if(truth.gaps, long_enough));
    errors.gaps += true_gaps;
    errors.gaps_missed += std::max(0, true_gaps - static_cast<int>(heard.gaps.size()));
}

}  // namespace

void HoldErrors::add(const HoldErrors& other)
{
    append(onset_ms, other.onset_ms);
    append(offset_ms, other.offset_ms);
    append(duration_ms, other.duration_ms);
    holds += other.holds;
    missed += other.missed;
    invented += other.invented;
    gaps += other.gaps;
    gaps_missed += other.gaps_missed;
}

HoldErrors errors_of(std::span<const HeardHold> heard, std::span<const TrueHold> truth)
{
    HoldErrors errors;
    errors.holds = static_cast<int>(truth.size());
    for (const TrueHold& t : truth) {
        const auto best = std::ranges::max_element(
            heard, {}, [&](const HeardHold& h) { return overlap(h, t).count(); });
        if (best == heard.end() || overlap(*best, t) <= Seconds{0.0})
            ++errors.missed;
        else
            judge(*best, t, errors);
    }
    const auto matched = errors.holds - errors.missed;
    const auto long_ones = static_cast<int>(
        std::ranges::count_if(heard, [](const HeardHold& h) { return h.offset - h.onset >= 1s; }));
    errors.invented = std::max(0, long_ones - matched);
    return errors;
}

}  // namespace holdwell::test
