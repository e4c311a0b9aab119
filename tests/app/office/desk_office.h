#pragma once
// An Office in a scratch folder, whose clock and ids are the test's.

#include <doctest/doctest.h>

#include <memory>
#include <string>
#include <utility>

#include "app/office/office.h"
#include "tests/app/files/scratch_folder.h"

namespace holdwell::test {

struct OfficeInFolder {
    explicit OfficeInFolder(std::filesystem::path data) : data_folder{std::move(data)} { start(); }

    // As after the program was closed, or was killed: nothing is remembered but what is on disk.
    void start()
    {
        office.reset();
        OfficeSettings settings;
        settings.data_folder = data_folder;
        settings.templates_folder = data_folder.parent_path() / "plans";
        settings.documents_folder = data_folder.parent_path();
        settings.now = [this] { return now; };
        settings.new_id = [this] {
            const std::string digits = std::to_string(++ids);
            return Id{std::string(32 - digits.size(), '0') + digits};
        };
        office = std::make_unique<Office>(settings);
    }

    // The answer that was hoped for.
    template <typename Hoped, typename Request>
    Hoped ask(const Request& request)
    {
        Answer answer = office->answer(request);
        if (const auto* refused = std::get_if<Refused>(&answer)) FAIL(refused->sentence);
        REQUIRE(std::holds_alternative<Hoped>(answer));
        return std::get<Hoped>(std::move(answer));
    }
    template <typename Request>
    std::string refusal(const Request& request)
    {
        const Answer answer = office->answer(request);
        REQUIRE(std::holds_alternative<Refused>(answer));
        return std::get<Refused>(answer).sentence;
    }

    std::filesystem::path data_folder;
    Moment now{Date{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}},
               ClockTime{std::chrono::minutes{500}}};
    int ids{0};
    std::unique_ptr<Office> office;
};

inline Trial a_trial(int number)
{
    HoldMeasures hold;
    hold.hold_time = Seconds{5.0 + number};
    Trial trial;
    trial.number = number;
    trial.measures = hold;
    return trial;
}

}  // namespace holdwell::test
