#pragma once
// Clients, plans and practices that nobody made, drawn from a seed: every field takes values all
// over its range, optional ones are absent half the time, texts have accents and quotes.
//
// Plans have no faults; ids are 32 hexadecimal digits.

#include <cstddef>
#include <string>
#include <vector>

#include "app/practice/records.h"
#include "tests/support/random.h"

namespace holdwell::test {

class RandomRecords {
public:
    explicit RandomRecords(std::uint64_t seed) : random_{seed} {}

    Id id();
    Date date();  // 2020 .. 2029
    std::string text(int letters);
    std::vector<std::byte> bytes(int count);

    Client client();
    Plan plan();
    Trial trial(int number);
    // Of `trials` trials, numbered from 1.
    Practice practice(const Id& client, int trials);
    ClientGoal goal();
    // A client with `plans` plans, `practices` practices by moment begun, and up to two goals.
    ClientFile file(int plans, int practices);

private:
    bool either() { return random_.below(2) == 0; }
    int between(int least, int most) { return least + random_.below(most - least + 1); }
    template <typename Enum>
    Enum any(Enum last)
    {
        return static_cast<Enum>(random_.below(static_cast<int>(last) + 1));
    }
    // A quantity within a range, or, half the time, nothing.
    template <typename Quantity>
    std::optional<Quantity> maybe(double low, double high)
    {
        if (either()) return std::nullopt;
        return Quantity{random_.uniform(low, high)};
    }

    LabelledOnset labelled_onset();
    HoldMeasures hold();
    GlideMeasures glide();
    SibilantMeasures sibilant();
    Measures measures_for(DrillKind kind);

    Random random_;
};

}  // namespace holdwell::test
