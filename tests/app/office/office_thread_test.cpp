// The records behind a thread: answers in the order of the questions, and nothing lost at the end.

#include <doctest/doctest.h>

#include <atomic>
#include <chrono>
#include <string>
#include <thread>
#include <vector>

#include "app/office/office_thread.h"
#include "tests/app/files/scratch_folder.h"

using namespace holdwell;

namespace {

OfficeSettings settings_in(const test::ScratchFolder& folder)
{
    OfficeSettings settings = usual_settings();
    settings.data_folder = folder.path("data");
    settings.documents_folder = folder.path("documents");
    return settings;
}

std::string code_of(int number) { return "Client " + std::to_string(number); }

}  // namespace

TEST_CASE("threads: answers come in the order in which they were asked for, each with a wake-up")
{
    constexpr int kClients = 20;
    const test::ScratchFolder folder;
    std::atomic<int> wakes{0};
    OfficeThread office{settings_in(folder), [&wakes] { ++wakes; }};
    for (int i = 0; i < kClients; ++i) office.ask(AddClient{code_of(i)});
    std::vector<Answer> answers;
    const auto begin = std::chrono::steady_clock::now();
    while (answers.size() < kClients &&
           std::chrono::steady_clock::now() - begin < std::chrono::seconds{20}) {
        for (Answer& answer : office.take_answers()) answers.push_back(std::move(answer));
        std::this_thread::sleep_for(std::chrono::milliseconds{5});
    }
    REQUIRE(answers.size() == kClients);
    for (int i = 0; i < kClients; ++i) {
        const auto* added = std::get_if<ClientAdded>(&answers[static_cast<std::size_t>(i)]);
        REQUIRE(added != nullptr);
        CHECK(added->client.code == code_of(i));
    }
    CHECK(wakes == kClients);
}

TEST_CASE("threads: what was asked for is done before the thread ends")
{
    constexpr std::size_t kClients = 15;
    const test::ScratchFolder folder;
    {
        OfficeThread office{settings_in(folder), {}};
        for (std::size_t i = 0; i < kClients; ++i)
            office.ask(AddClient{code_of(static_cast<int>(i))});
    }
    Office after{settings_in(folder)};
    const Answer answer = after.answer(ListClients{});
    const auto* listed = std::get_if<ClientsListed>(&answer);
    REQUIRE(listed != nullptr);
    CHECK(listed->lines.size() == kClients);
}

TEST_CASE("threads: a refusal comes back with the number of its request")
{
    const test::ScratchFolder folder;
    OfficeThread office{settings_in(folder), {}};
    office.ask(OpenClient{Id{"nobody"}}, RequestNumber{7});
    office.ask(ConfirmImport{}, RequestNumber{8});  // of nothing that was looked into
    std::vector<Answer> answers;
    const auto begin = std::chrono::steady_clock::now();
    while (answers.size() < 2 &&
           std::chrono::steady_clock::now() - begin < std::chrono::seconds{20}) {
        for (Answer& answer : office.take_answers()) answers.push_back(std::move(answer));
        std::this_thread::sleep_for(std::chrono::milliseconds{5});
    }
    REQUIRE(answers.size() == 2);
    for (int i = 0; i < 2; ++i) {
        const auto* refused = std::get_if<Refused>(&answers[static_cast<std::size_t>(i)]);
        REQUIRE(refused != nullptr);
        CHECK(refused->of.value == 7 + i);
    }
}
