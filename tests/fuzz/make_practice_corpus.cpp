// Writes the small files that fuzzing of what is handed over starts from: make_practice_corpus
// PRACTICES SEALED, two folders.

#include <filesystem>
#include <fstream>
#include <string>

#include "app/files/practice_file.h"
#include "app/files/sealed_file.h"

namespace {

using namespace holdwell;

Id id_of(char digit) { return {std::string(32, digit)}; }

Trial trial_of(char digit, DrillKind kind, const Measures& measures)
{
    Trial trial;
    trial.id = id_of(digit);
    trial.kind = kind;
    trial.measures = measures;
    return trial;
}

// One of each kind of trial, a plan and a clip.
PracticeFile practices()
{
    const Date day{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}};
    PracticeFile file;
    file.records.client.id = id_of('a');
    file.records.client.code = "C-17";
    file.records.client.since = day;
    Plan plan;
    plan.id = id_of('b');
    file.records.plans.push_back(plan);
    Practice practice;
    practice.id = id_of('c');
    practice.begun.date = day;
    practice.rating = SelfRating{};
    practice.trials = {trial_of('d', DrillKind::warm_up_hold, HoldMeasures{}),
                       trial_of('e', DrillKind::rising_glide, GlideMeasures{}),
                       trial_of('f', DrillKind::s_hold, SibilantMeasures{})};
    practice.trials[0].target = kF4;
    file.clips.push_back({practice.trials[0].id, std::vector<std::byte>(10)});
    file.records.practices.push_back(practice);
    return file;
}

bool write_file(const std::filesystem::path& path, const std::string& bytes)
{
    std::ofstream file{path, std::ios::binary};
    file << bytes;
    return static_cast<bool>(file.flush());
}

}  // namespace

int main(int argc, char** argv)
{
    if (argc != 3) return 2;
    const std::filesystem::path folder{argv[1]};
    const std::filesystem::path sealed_folder{argv[2]};
    const PracticeFile file = practices();
    const DayForm numbers{.day_one = first_day_of(file.records)};
    const auto sealed =
        seal("a few words", "another passphrase", {.passes = 1, .memory_bytes = 8192});
    const bool is_written = write_file(folder / "dates.json", as_json(file)) &&
                            write_file(folder / "numbers.json", as_json(file, numbers)) && sealed &&
                            write_file(sealed_folder / "a", sealed.value());
    return is_written ? 0 : 1;
}
