// What a file that was handed over may hold, and what of it the screens can go on with.

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <numbers>
#include <string>

#include "app/files/flac_bytes.h"
#include "app/files/plan_file.h"
#include "app/files/practice_file.h"
#include "app/files/sealed_file.h"
#include "tests/app/office/desk_office.h"
#include "tests/support/records/course.h"

using namespace holdwell;
using test::OfficeInFolder;
using test::ScratchFolder;

namespace {

namespace fs = std::filesystem;

PracticeFile of_client(const std::string& code)
{
    return {.records = test::record_of({.days = 3, .code = code}), .clips = {}};
}

std::vector<std::byte> sung(SampleRate rate, Seconds length)
{
    Recording recording{.samples = {}, .sample_rate = rate};
    for (std::int64_t i = 0; i < samples_in(length, rate).value; ++i) {
        const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / rate.hz;
        recording.samples.push_back(static_cast<float>(0.2 * std::sin(349.23 * turn)));
    }
    auto flac = flac_of(recording);
    REQUIRE(flac);
    return flac.value();
}

Plan with_model(std::vector<std::byte> flac)
{
    Plan plan;
    plan.models = {{.kind = DrillKind::warm_up_hold, .note = kF4, .flac = std::move(flac)}};
    return plan;
}

struct Clinic {
    ScratchFolder folder;
    OfficeInFolder office{folder.path("data")};
    std::string refusal_of(const std::string& bytes)
    {
        return office.refusal(PreviewImport{.path = folder.file("handed-over.json", bytes)});
    }
    void take_in(const std::string& name, const std::string& bytes)
    {
        office.ask<ImportPreviewed>(PreviewImport{.path = folder.file(name, bytes)});
        office.ask<Imported>(ConfirmImport{});
    }
    std::vector<RosterLine> roster() { return office.ask<ClientsListed>(ListClients{}).lines; }
};

// The zone that is set, and the one before it afterwards. POSIX: "XYZ-14" is 14 hours east.
class Zone {
public:
    explicit Zone(const char* zone)
    {
        setenv("TZ", zone, 1);
        tzset();
    }
    ~Zone()
    {
        unsetenv("TZ");
        tzset();
    }
    Zone(const Zone&) = delete;
    Zone& operator=(const Zone&) = delete;
};

}  // namespace

TEST_CASE("a code that no screen would take is refused at the door, with its place")
{
    Clinic clinic;
    const std::string sentence = "Nothing was taken from handed-over.json. client.code: A client's "
                                 "code has 1 to 40 letters or digits, on one line.";
    for (const std::string& code :
         {std::string(41, 'x'), std::string(160, 'x'), std::string{"two\nlines"}})
        CHECK(clinic.refusal_of(as_json(of_client(code))) == sentence);
    CHECK(clinic.roster().empty());
    // Forty letters of three bytes each.
    std::string wide;
    for (int i = 0; i < 40; ++i) wide += "\u8a9e";
    clinic.take_in("wide.json", as_json(of_client(wide)));
    REQUIRE(clinic.roster().size() == 1);
    CHECK(clinic.roster().front().code == wide);
}

TEST_CASE("a code that is taken already gets a number, and stays one that can be changed")
{
    Clinic clinic;
    const std::string longest(40, 'x');
    clinic.office.ask<ClientAdded>(AddClient{longest});
    clinic.take_in("hers.json", as_json(of_client(longest)));
    const auto lines = clinic.roster();
    REQUIRE(lines.size() == 2);
    for (const RosterLine& line : lines) {
        CAPTURE(line.code);
        Client client = clinic.office.ask<ClientOpened>(OpenClient{line.client}).file.client;
        client.standing = Standing::archived;
        CHECK(clinic.office.ask<ClientChanged>(ChangeClient{client}).client.standing ==
              Standing::archived);
    }
}

TEST_CASE("models that cannot be played are refused, each with its place")
{
    Clinic clinic;
    clinic.office.ask<HomeLoaded>(LoadHome{});
    const auto whole = sung({48'000.0}, Seconds{2.0});
    auto cut = whole;
    cut.resize(cut.size() / 2);
    auto changed = whole;
    for (std::size_t i = changed.size() / 2; i < changed.size() / 2 + 400; ++i)
        changed[i] = std::byte{0x55};
    const std::string begin = "Nothing was taken from handed-over.json. models[0].flac_base64: ";
    const std::string broken =
        begin + "The recording is broken and cannot be played; record it anew, or leave the model "
                "out.";
    CHECK(clinic.refusal_of(as_json(with_model(cut))) == broken);
    CHECK(clinic.refusal_of(as_json(with_model(changed))) == broken);
    CHECK(clinic.refusal_of(as_json(with_model(sung({4'000.0}, Seconds{2.0})))) ==
          begin + "The recording has 4000 samples a second; it may have 8000 to 192000.");
    CHECK(clinic.refusal_of(as_json(with_model(sung({48'000.0}, Seconds{15.5})))) ==
          begin + "It lasts 15.5 s; it may last up to 15 s.");
    CHECK(clinic.refusal_of(as_json(with_model(std::vector<std::byte>(4u << 20)))) ==
          begin + "It is no FLAC recording; it may be one of up to 15 s.");
    for (const double rate : {8'000.0, 44'100.0, 96'000.0}) {
        CAPTURE(rate);
        Plan plan = with_model(sung({rate}, Seconds{2.0}));
        plan.id = {std::string(31, '0') + std::to_string(static_cast<int>(rate) % 10)};
        const auto preview = clinic.office.ask<ImportPreviewed>(
            PreviewImport{.path = clinic.folder.file("good.json", as_json(plan))});
        CHECK(preview.plan->models.size() == 1);
    }
}

TEST_CASE("a plan whose model was taken out since is the same plan, and stays without it")
{
    Clinic clinic;
    clinic.office.ask<HomeLoaded>(LoadHome{});
    Plan plan = with_model(sung({48'000.0}, Seconds{1.0}));
    plan.id = {std::string(32, '7')};
    const std::string first = as_json(plan);
    clinic.take_in("first.json", first);
    ++plan.revision;
    plan.models.clear();
    clinic.take_in("second.json", as_json(plan));
    const auto preview = clinic.office.ask<ImportPreviewed>(
        PreviewImport{.path = clinic.folder.file("again.json", first)});
    CHECK(preview.conflicts.empty());
    CHECK_FALSE(preview.plan);
    clinic.office.ask<Imported>(ConfirmImport{});
    for (const Plan& kept : clinic.office.ask<HomeLoaded>(LoadHome{}).file.plans)
        CHECK(kept.models.empty());
}

TEST_CASE("a sealed file is opened with its passphrase, and told from one of another")
{
    Clinic clinic;
    const Argon2Cost quick{.passes = 1, .memory_bytes = 8192};
    const auto sealed = seal(as_json(of_client("C-104")), "three calm words", quick);
    REQUIRE(sealed);
    const std::string path = clinic.folder.file("hers.json.sealed", sealed.value());
    CHECK(clinic.office.refusal(PreviewImport{.path = path}) ==
          "hers.json.sealed is sealed; type its passphrase.");
    CHECK(clinic.office.refusal(PreviewImport{.path = path, .passphrase = "three other words"})
              .starts_with("The passphrase does not fit this file"));
    const auto preview = clinic.office.ask<ImportPreviewed>(
        PreviewImport{.path = path, .passphrase = "three calm words"});
    CHECK(preview.client_code == "C-104");
}

TEST_CASE("the day of a file is that of the place where it is looked at")
{
    const ScratchFolder folder;
    const std::string path = folder.file("plan.json", as_json(Plan{}));
    // 2026-03-02, 23:00 in Greenwich: 1772492400 s after 1970 by the rules of POSIX.
    constexpr std::time_t kLate = 1'772'492'400;
    fs::last_write_time(
        path, std::chrono::file_clock::from_sys(std::chrono::system_clock::from_time_t(kLate)));
    OfficeSettings settings;
    settings.data_folder = folder.path("data");
    settings.file_folders = {folder.path("")};
    settings.now = [] { return Moment{}; };
    settings.new_id = [] { return Id{std::string(32, 'a')}; };
    Office office{settings};
    const auto says = [&](const char* zone) {
        const Zone set{zone};
        return std::get<FilesFound>(office.answer(FindFiles{})).files.at(0).says;
    };
    CHECK(says("UTC0").find("2 Mar") != std::string::npos);
    CHECK(says("XYZ-14").find("3 Mar") != std::string::npos);
    CHECK(says("XYZ10").find("2 Mar") != std::string::npos);
}
