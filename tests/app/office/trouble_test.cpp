// A disk that is full, locked or in use stops no practice: it goes on in memory and is saved as
// soon as it can be.

#include <doctest/doctest.h>
#include <sys/resource.h>

#include <cstdio>

#include "app/store/store.h"
#include "tests/app/office/desk_office.h"
#include "tests/app/store/child.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

namespace fs = std::filesystem;

// What a child process says of its steps: assertions would speak where nobody hears them.
class Steps {
public:
    explicit Steps(int to_parent) : to_parent_{to_parent} {}
    void expect(bool holds, const char* what)
    {
        if (holds) return;
        const std::string line = std::string{what} + "\n";
        failed_ = ::write(to_parent_, line.data(), line.size()) > 0 || failed_;
    }
    int status() const { return failed_ ? 1 : 0; }

private:
    int to_parent_;
    bool failed_{false};
};

template <typename Hoped, typename Request>
std::optional<Hoped> asked(OfficeInFolder& desk, const Request& request)
{
    const Answer answer = desk.office->answer(request);
    const auto* hoped = std::get_if<Hoped>(&answer);
    return hoped != nullptr ? std::optional{*hoped} : std::nullopt;
}

Practice of_client(const Id& client)
{
    Practice practice;
    practice.client = client;
    practice.trials_asked = 3;
    return practice;
}

void check_in_child(const std::function<void(Steps&)>& work)
{
    Child child{[&](int to_parent) {
        Steps steps{to_parent};
        work(steps);
        return steps.status();
    }};
    CHECK(child.status() == 0);
    CHECK(child.written() == "");
}

// The records of the folder when nothing is in the way.
ClientFile records_in(const fs::path& folder)
{
    OfficeInFolder desk{folder};
    return desk.ask<HomeLoaded>(LoadHome{}).file;
}

// A folder with a client in it, of the user who is refused what is forbidden.
Id settled_in(const fs::path& folder)
{
    const Id client = records_in(folder).client.id;
    give_to_ordinary(folder.string());
    for (const auto& entry : fs::directory_iterator{folder})
        give_to_ordinary(entry.path().string());
    return client;
}

constexpr fs::perms kNoWriting = fs::perms::owner_read | fs::perms::owner_exec;

}  // namespace

TEST_CASE("in a folder that cannot be written a practice goes on, and is saved once it can be")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch.path("data");
    const Id client = settled_in(folder);
    check_in_child([&](Steps& steps) {
        become_ordinary();
        fs::permissions(folder / "records.sqlite", fs::perms::owner_read);
        fs::permissions(folder, kNoWriting);
        OfficeInFolder desk{folder};
        desk.ids = 1000;
        const auto home = asked<HomeLoaded>(desk, LoadHome{});
        steps.expect(home && home->file.client.id == client, "the client is found");
        steps.expect(home && home->notice.find("kept in memory") != std::string::npos,
                     "the notice says where it is kept");
        steps.expect(home && home->notice.find("read-only") != std::string::npos,
                     "the notice says why");
        const auto begun = asked<PracticeBegun>(desk, BeginPractice{of_client(client)});
        steps.expect(begun && !begun->notice.empty(), "begun, with a notice");
        const auto kept = asked<TrialKept>(desk, KeepTrial{begun->practice.id, a_trial(1), {}});
        steps.expect(kept && !kept->notice.empty(), "kept, with a notice");
        const auto opened = asked<ClientOpened>(desk, OpenClient{client});
        steps.expect(opened && opened->file.practices.size() == 1 &&
                         opened->file.practices[0].trials.size() == 1,
                     "what is held is seen");
        const auto added = asked<Refused>(desk, AddClient{"X"});
        steps.expect(added && added->sentence.find("read-only") != std::string::npos,
                     "a change of the therapist's is refused, with the reason");

        fs::permissions(folder, fs::perms::owner_all);
        fs::permissions(folder / "records.sqlite", fs::perms::owner_read | fs::perms::owner_write);
        const auto next = asked<TrialKept>(desk, KeepTrial{begun->practice.id, a_trial(2), {}});
        steps.expect(next && next->notice.empty(), "all is on disk again");
    });
    const ClientFile file = records_in(folder);
    CHECK(file.client.id == client);
    REQUIRE(file.practices.size() == 1);
    CHECK(file.practices[0].trials.size() == 2);
}

TEST_CASE("what was practised while the records were out of reach becomes the client's own")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch.path("data");
    const Id client = settled_in(folder);
    check_in_child([&](Steps& steps) {
        become_ordinary();
        fs::permissions(folder, fs::perms::none);
        OfficeInFolder desk{folder};
        desk.ids = 1000;
        const auto home = asked<HomeLoaded>(desk, LoadHome{});
        steps.expect(home && home->file.client.id != client && !home->notice.empty(),
                     "a client is made for the time being");
        steps.expect(home && home->bytes == 0, "nothing is on disk");
        const Id made_up = home->file.client.id;
        const auto begun = asked<PracticeBegun>(desk, BeginPractice{of_client(made_up)});
        steps.expect(begun.has_value(), "begun");
        const auto kept = asked<TrialKept>(desk, KeepTrial{begun->practice.id, a_trial(1), {}});
        steps.expect(kept && !kept->notice.empty(), "kept in memory");
        steps.expect(asked<Refused>(desk, ListClients{}).has_value(), "no roster without records");

        fs::permissions(folder, fs::perms::owner_all);
        const auto next = asked<TrialKept>(desk, KeepTrial{begun->practice.id, a_trial(2), {}});
        steps.expect(next && next->notice.empty(), "all is on disk");
        const auto second = asked<PracticeBegun>(desk, BeginPractice{of_client(made_up)});
        steps.expect(second && second->notice.empty(), "she goes on under the name she was given");
        const auto found = asked<HomeLoaded>(desk, LoadHome{});
        steps.expect(found && found->file.client.id == client, "she is who she was");
    });
    const ClientFile file = records_in(folder);
    CHECK(file.client.id == client);
    REQUIRE(file.practices.size() == 2);
    CHECK(file.practices[0].trials.size() + file.practices[1].trials.size() == 2);
    OfficeInFolder desk{folder};
    CHECK(desk.ask<ClientsListed>(ListClients{}).lines.size() == 1);  // nobody made up is left
}

TEST_CASE("a first start without a place for records can be practised, and is saved later")
{
    const ScratchFolder scratch;
    const fs::path parent = scratch.path("locked");
    fs::create_directory(parent);
    give_to_ordinary(parent.string());
    const fs::path folder = parent / "data";
    check_in_child([&](Steps& steps) {
        become_ordinary();
        fs::permissions(parent, kNoWriting);
        OfficeInFolder desk{folder};
        const auto home = asked<HomeLoaded>(desk, LoadHome{});
        steps.expect(home && home->file.plans.size() == 1, "there is a plan to practise");
        const auto begun =
            asked<PracticeBegun>(desk, BeginPractice{of_client(home->file.client.id)});
        steps.expect(begun && !begun->notice.empty(), "begun in memory");
        steps.expect(
            asked<TrialKept>(desk, KeepTrial{begun->practice.id, a_trial(1), {}}).has_value(),
            "kept in memory");
        fs::permissions(parent, fs::perms::owner_all);
        Practice closing = begun->practice;
        closing.completion = Completion::complete;
        const auto closed = asked<PracticeClosed>(desk, ClosePractice{closing});
        steps.expect(closed && closed->notice.empty() && closed->practice.trials.size() == 1,
                     "all is on disk at the end");
    });
    const ClientFile file = records_in(folder);
    REQUIRE(file.practices.size() == 1);
    CHECK(file.practices[0].completion == Completion::complete);
    CHECK(file.practices[0].trials.size() == 1);
}

// A file size limit stands for a full disk, see tests/app/store/durability_test.cpp.
TEST_CASE("where files cannot grow a practice goes on in memory and is saved when there is room")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch.path("data");
    int trials = 0;
    check_in_child([&](Steps& steps) {
        ::signal(SIGXFSZ, SIG_IGN);
        OfficeInFolder desk{folder};
        const auto home = asked<HomeLoaded>(desk, LoadHome{});
        const auto begun =
            asked<PracticeBegun>(desk, BeginPractice{of_client(home->file.client.id)});
        rlimit before{};
        ::getrlimit(RLIMIT_FSIZE, &before);
        const rlimit small{330'000, before.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &small);
        int held = 0;
        for (int number = 1; number <= 60 && held < 5; ++number) {
            const auto kept =
                asked<TrialKept>(desk, KeepTrial{begun->practice.id, a_trial(number), {}});
            steps.expect(kept.has_value(), "never refused");
            held += kept && !kept->notice.empty() ? 1 : 0;
        }
        steps.expect(held == 5, "the limit was reached");
        ::setrlimit(RLIMIT_FSIZE, &before);
        const auto after = asked<HomeLoaded>(desk, LoadHome{});
        steps.expect(after && after->notice.empty(), "saved when there is room");
    });
    const ClientFile file = records_in(folder);
    REQUIRE(file.practices.size() == 1);
    trials = static_cast<int>(file.practices[0].trials.size());
    CHECK(trials > 5);
    for (int i = 0; i < trials; ++i)  // all of them, the held ones too
        CHECK(file.practices[0].trials[static_cast<std::size_t>(i)].number == i + 1);
}

TEST_CASE("closing the program saves what can be saved by then")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch.path("data");
    const Id client = settled_in(folder);
    check_in_child([&](Steps& steps) {
        become_ordinary();
        fs::permissions(folder / "records.sqlite", fs::perms::owner_read);
        fs::permissions(folder, kNoWriting);
        OfficeInFolder desk{folder};
        desk.ids = 1000;
        const auto begun = asked<PracticeBegun>(desk, BeginPractice{of_client(client)});
        steps.expect(begun && !begun->notice.empty(), "held");
        fs::permissions(folder, fs::perms::owner_all);
        fs::permissions(folder / "records.sqlite", fs::perms::owner_read | fs::perms::owner_write);
        desk.office.reset();
    });
    CHECK(records_in(folder).practices.size() == 1);
}

TEST_CASE("records that are no records are said so and left alone, and one can practise all the same")
{
    const ScratchFolder scratch;
    const fs::path folder = scratch.path("data");
    fs::create_directory(folder);
    const std::string letter(5000, 'x');
    scratch.file("data/records.sqlite", letter);
    OfficeInFolder desk{folder};
    const auto home = desk.ask<HomeLoaded>(LoadHome{});
    CHECK(home.notice.find("damaged") != std::string::npos);
    const auto begun = desk.ask<PracticeBegun>(BeginPractice{of_client(home.file.client.id)});
    desk.ask<TrialKept>(KeepTrial{begun.practice.id, a_trial(1), {}});
    CHECK(desk.ask<HomeLoaded>(LoadHome{}).unfinished->trials.size() == 1);
    CHECK(fs::file_size(folder / "records.sqlite") == letter.size());
}
