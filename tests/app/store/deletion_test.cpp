// What was deleted is gone from the disk, not only from sight.

#include <doctest/doctest.h>

#include "app/store/store.h"
#include "tests/app/files/scratch_folder.h"
#include "tests/app/store/raw.h"
#include "tests/support/records/random_records.h"

using namespace holdwell;
using namespace holdwell::test;

namespace {

// Words and ids that occur in nobody else's records.
struct Traces {
    std::string code = "Unmistakable-Code-4711";
    std::string earlier_code = "Mistaken-At-First-0815";
    std::string remark = "the kettle was loud today";
    std::string sound = "fLaC-and-her-very-own-voice";
};

std::vector<std::byte> as_bytes(const std::string& text)
{
    const auto* begin = reinterpret_cast<const std::byte*>(text.data());
    return {begin, begin + text.size()};
}

void keep_others(Store& store, RandomRecords& records, int clients)
{
    for (int i = 0; i < clients; ++i) {
        const ClientFile file = records.file(1, 4);
        Additions all;
        all.client = file.client;
        all.plans = file.plans;
        all.practices = file.practices;
        REQUIRE(store.keep(all));
    }
}

bool stands_in(const std::string& bytes, const std::string& text)
{
    return bytes.find(text) != std::string::npos;
}

}  // namespace

TEST_CASE("a deleted client leaves no trace in the file or its journal")
{
    const ScratchFolder scratch;
    const std::filesystem::path folder = scratch.path("data");
    auto store = Store::open(folder / "records.sqlite");
    REQUIRE(store);
    RandomRecords records{21};
    const Traces traces;
    keep_others(store.value(), records, 20);

    ClientFile file = records.file(2, 0);
    file.client.code = traces.earlier_code;
    REQUIRE(store.value().keep(file.client));
    for (const Plan& plan : file.plans) REQUIRE(store.value().keep(file.client.id, plan));
    keep_others(store.value(), records, 10);
    file.client.code = traces.code;
    REQUIRE(store.value().keep(file.client));
    std::vector<std::string> ids{file.client.id.text};
    for (int i = 0; i < 60; ++i) {
        Practice practice = records.practice(file.client.id, 10);
        practice.remark = traces.remark;
        REQUIRE(store.value().keep(practice));
        ids.push_back(practice.id.text);
        ids.push_back(practice.trials[3].id.text);
        const Clip clip{practice.trials[0].id, as_bytes(traces.sound)};
        REQUIRE(store.value().keep(practice.id, clip, practice.begun.date));
        if (i % 20 == 0) keep_others(store.value(), records, 5);  // pages are split and shared
    }
    REQUIRE(store.value().set_home_client(file.client.id));

    // The same search finds all of it while it is there.
    const std::string before = all_bytes_in(folder);
    CHECK(stands_in(before, traces.code));
    CHECK(stands_in(before, traces.remark));
    CHECK(stands_in(before, traces.sound));
    for (const std::string& id : ids) CHECK(stands_in(before, id));

    REQUIRE(store.value().remove_client(file.client.id));
    const std::string after = all_bytes_in(folder);
    CHECK_FALSE(stands_in(after, traces.code));
    CHECK_FALSE(stands_in(after, traces.earlier_code));
    CHECK_FALSE(stands_in(after, traces.remark));
    CHECK_FALSE(stands_in(after, traces.sound));
    for (const std::string& id : ids) CHECK_FALSE(stands_in(after, id));

    CHECK(store.value().clients().value().size() >= 30);  // the others stay
    CHECK(RawDatabase{(folder / "records.sqlite").string()}.value("PRAGMA integrity_check") ==
          "ok");
}

TEST_CASE("deleted sound leaves no trace, and the measures stay")
{
    const ScratchFolder scratch;
    const std::filesystem::path folder = scratch.path("data");
    auto store = Store::open(folder / "records.sqlite");
    REQUIRE(store);
    RandomRecords records{22};
    const Client client = records.client();
    const Practice practice = records.practice(client.id, 4);
    REQUIRE(store.value().keep(client));
    REQUIRE(store.value().keep(practice));
    std::string sound;
    while (sound.size() < 200'000) sound += "her voice, second by second; ";
    REQUIRE(store.value().keep(practice.id, {practice.trials[1].id, as_bytes(sound)}, Date{}));
    CHECK(stands_in(all_bytes_in(folder), "second by second"));
    REQUIRE(store.value().remove_clips(client.id));
    CHECK_FALSE(stands_in(all_bytes_in(folder), "second by second"));
    CHECK(same(*store.value().practice(practice.id).value(), practice));
}

TEST_CASE("a model that was taken out of a plan leaves no trace, in earlier revisions neither")
{
    const ScratchFolder scratch;
    const std::filesystem::path folder = scratch.path("data");
    auto store = Store::open(folder / "records.sqlite");
    REQUIRE(store);
    RandomRecords records{22};
    const Traces traces;
    ClientFile file = records.file(1, 0);
    Plan plan = file.plans.front();
    plan.models = {{.kind = DrillKind::warm_up_hold, .note = kF4, .flac = as_bytes(traces.sound)}};
    REQUIRE(store.value().keep(file.client));
    REQUIRE(store.value().keep(file.client.id, plan));
    CHECK(stands_in(all_bytes_in(folder), traces.sound));

    ++plan.revision;
    plan.models.clear();
    REQUIRE(store.value().keep(file.client.id, plan));
    CHECK_FALSE(stands_in(all_bytes_in(folder), traces.sound));
    const auto kept = store.value().client_and_plans(file.client.id);
    REQUIRE(kept.value()->plans.size() == 2);
    CHECK(kept.value()->plans[0].models.empty());
}
