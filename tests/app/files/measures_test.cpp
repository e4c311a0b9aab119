// Expected text follows the description of the format in the manual (assets/holdwell.1) and
// RFC 4180 and RFC 8259, not the code under test.

#include "app/files/measures.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

using namespace holdwell;
using Json = nlohmann::ordered_json;

namespace {

constexpr SampleRate kRate{48'000.0};

SampleIndex at(double seconds) { return {samples_in(Seconds{seconds}, kRate).value}; }

Hold full_hold()
{
    Hold hold;
    hold.onset = at(0.512);
    hold.offset = at(10.498);
    hold.f0_median = Hertz{349.9};
    hold.f0_sd = Cents{6.1};
    hold.deviation = Cents{3.4};
    hold.in_band = Seconds{9.71};
    hold.level = {-27.3};
    hold.interruptions.push_back({at(4.2), 80ms});
    hold.start.named = OnsetClass::easy;
    hold.start.rise = 62ms;
    hold.start.air_lead = 0ms;
    hold.start.reason = "Soft, even";
    hold.quality = Quality{0.4, 2.1, {21.5}, {14.2}};
    hold.doubt = Doubt::noisy_room;
    hold.like_a_machine = true;
    return hold;
}

Heard heard(const Hold& hold)
{
    Heard all;
    all.holds = {hold};
    return all;
}

Heard heard(const Glide& glide)
{
    Heard all;
    all.glides = {glide};
    return all;
}

FileMeasures with(Heard all)
{
    Measured measured;
    measured.sample_rate = kRate;
    measured.length = samples_in(Seconds{12.345}, kRate);
    measured.noise_floor = Dbfs{-61.2};
    measured.heard = std::move(all);
    return {.file = "name as given", .measured = std::move(measured)};
}

std::vector<std::string> keys_of(const Json& object)
{
    std::vector<std::string> keys;
    for (const auto& [key, value] : object.items()) keys.push_back(key);
    return keys;
}

using Keys = std::vector<std::string>;

}  // namespace

TEST_CASE("a hold is written with every key that the manual promises, and its values")
{
    const Json json = Json::parse(as_json(with(heard(full_hold()))));
    CHECK(keys_of(json) == Keys{"file", "sample_rate_hz", "duration_s", "noise_floor_dbfs",
                                "clipped_samples", "lost_samples", "holds", "s_holds", "z_holds",
                                "glides", "processing"});
    CHECK(json["file"] == "name as given");
    CHECK(json["sample_rate_hz"] == 48'000);
    CHECK(json["duration_s"] == 12.345);
    CHECK(json["noise_floor_dbfs"] == -61.2);
    const Json& hold = json["holds"][0];
    CHECK(keys_of(hold) == Keys{"onset_s", "offset_s", "duration_s", "f0_median_hz", "f0_sd_cents",
                                "deviation_cents", "in_band_s", "level_dbfs", "interruptions",
                                "onset", "onset_rise_ms", "air_lead_ms", "onset_reason", "fry_s",
                                "quality", "doubt", "like_a_machine"});
    CHECK(hold.dump() ==
          R"({"onset_s":0.512,"offset_s":10.498,"duration_s":9.986,"f0_median_hz":349.9,)"
          R"("f0_sd_cents":6.1,"deviation_cents":3.4,"in_band_s":9.71,"level_dbfs":-27.3,)"
          R"("interruptions":[{"at_s":4.2,"duration_ms":80.0}],"onset":"easy",)"
          R"("onset_rise_ms":62.0,"air_lead_ms":0.0,"onset_reason":"Soft, even","fry_s":0.0,)"
          R"("quality":{"jitter_percent":0.4,"shimmer_percent":2.1,"hnr_db":21.5,"cpps_db":14.2},)"
          R"("doubt":"noisy_room","like_a_machine":true})");
}

TEST_CASE("what is unknown is null, never 0")
{
    Hold hold;
    hold.offset = at(2.0);
    const Json json = Json::parse(as_json(with(heard(hold))))["holds"][0];
    for (const char* key : {"f0_median_hz", "f0_sd_cents", "deviation_cents", "in_band_s",
                            "onset_rise_ms", "air_lead_ms", "onset_reason", "quality", "doubt"}) {
        CAPTURE(key);
        CHECK(json[key].is_null());
    }
    CHECK(json["onset"] == "unsure");
    CHECK(json["like_a_machine"] == false);
    Hold broken = hold;
    broken.f0_median = Hertz{std::numeric_limits<double>::quiet_NaN()};
    CHECK(Json::parse(as_json(with(heard(broken))))["holds"][0]["f0_median_hz"].is_null());
}

TEST_CASE("what was doubted, and what the system did, are named as the manual names them")
{
    struct Row {
        Doubt doubt;
        const char* name;
    };
    for (const Row& row :
         {Row{Doubt::several_sounds, "several_sounds"}, Row{Doubt::machine, "machine"},
          Row{Doubt::noisy_room, "noisy_room"}, Row{Doubt::overloaded, "overloaded"}}) {
        Hold hold = full_hold();
        hold.doubt = row.doubt;
        CHECK(Json::parse(as_json(with(heard(hold))))["holds"][0]["doubt"] == row.name);
    }
    FileMeasures measures = with({});
    CHECK(Json::parse(as_json(measures))["processing"] == Json::array());
    measures.measured->processing = {MicrophoneProcessing::noise_suppression,
                                     MicrophoneProcessing::gain_control};
    const Json both{"noise_suppression", "gain_control"};
    CHECK(Json::parse(as_json(measures))["processing"] == both);
    CHECK(as_csv(measures).ends_with(",noise_suppression gain_control\n"));
}

TEST_CASE("a glide is written with its range and its breaks")
{
    Glide glide;
    glide.onset = at(1.0);
    glide.offset = at(6.0);
    glide.lowest = Hertz{110.0};   // A2
    glide.highest = Hertz{440.0};  // A4: two octaves, 24 semitones
    glide.breaks = {{.at = at(3.1), .kind = BreakKind::jump, .size = Semitones{5.0}, .gap = {}},
                    {.at = at(4.0), .kind = BreakKind::gap, .size = {}, .gap = 90ms}};
    const Json json = Json::parse(as_json(with(heard(glide))))["glides"][0];
    CHECK(json.dump() ==
          R"({"onset_s":1.0,"offset_s":6.0,"direction":"up","lowest_hz":110.0,"highest_hz":440.0,)"
          R"("range_semitones":24.0,"breaks":[{"at_s":3.1,"kind":"jump","size_semitones":5.0},)"
          R"({"at_s":4.0,"kind":"gap","gap_ms":90.0}],"fry_s":0.0})");
}

TEST_CASE("an error stands in its place, on one line, whatever bytes the name holds")
{
    const FileMeasures failed{.file = "caf\u00e9 \xff.wav",
                              .measured = {},
                              .error = "caf\u00e9 \xff.wav: is empty; copy or record it again"};
    const std::string line = as_json(failed);
    CHECK(line.find('\n') == std::string::npos);
    const Json json = Json::parse(line);
    CHECK(keys_of(json) == Keys{"file", "error"});
    CHECK(json["file"] == "caf\u00e9 \ufffd.wav");
    CHECK(json["error"] == "caf\u00e9 \ufffd.wav: is empty; copy or record it again");
}

TEST_CASE("every row of CSV has as many fields as the heading, and quotes what RFC 4180 asks")
{
    Hold hold = full_hold();
    hold.start.reason = "full level in 7 ms, with a \"click\"";
    Heard heard_now = heard(hold);
    Sibilant sibilant;
    sibilant.onset = at(1.0);
    sibilant.offset = at(3.5);
    heard_now.s_holds = {sibilant};
    FileMeasures measures = with(heard_now);
    measures.file = "my, file.wav";
    const std::string csv = csv_heading() + as_csv(measures);

    // A reader of RFC 4180, section 2.
    std::vector<std::vector<std::string>> rows{{""}};
    bool quoted = false;
    for (std::size_t i = 0; i < csv.size(); ++i) {
        const char c = csv[i];
        if (quoted && c == '"' && i + 1 < csv.size() && csv[i + 1] == '"')
            rows.back().back() += csv[++i];
        else if (c == '"')
            quoted = !quoted;
        else if (c == ',' && !quoted)
            rows.back().emplace_back();
        else if (c == '\n' && !quoted)
            rows.push_back({""});
        else
            rows.back().back() += c;
    }
    REQUIRE(rows.size() == 4);  // heading, hold, /s/ hold, and nothing after the last line's end
    CHECK(rows[3] == std::vector<std::string>{""});
    const auto field = [&rows](std::size_t row, const std::string& column) {
        const auto found = std::ranges::find(rows[0], column);
        REQUIRE(found != rows[0].end());
        return rows[row][static_cast<std::size_t>(found - rows[0].begin())];
    };
    CHECK(rows[1].size() == rows[0].size());
    CHECK(rows[2].size() == rows[0].size());
    CHECK(field(1, "file") == "my, file.wav");
    CHECK(field(1, "kind") == "hold");
    CHECK(field(1, "duration_s") == "9.986");
    CHECK(field(1, "deviation_cents") == "3.40");
    CHECK(field(1, "onset_reason") == "full level in 7 ms, with a \"click\"");
    CHECK(field(1, "interruptions") == "1");
    CHECK(field(1, "doubt") == "noisy_room");
    CHECK(field(1, "like_a_machine") == "true");
    CHECK(field(2, "doubt").empty());
    CHECK(field(2, "kind") == "s_hold");
    CHECK(field(2, "duration_s") == "2.500");
    CHECK(field(2, "f0_median_hz").empty());
}

TEST_CASE("a file without a hold, and one that cannot be read, have a row each")
{
    const FileMeasures failed{.file = "x", .measured = {}, .error = "x: is empty; record it again"};
    CHECK(as_csv(failed).starts_with("x,error,"));
    CHECK(as_csv(failed).ends_with(",x: is empty; record it again,,,\n"));
    CHECK(as_csv(with({})).starts_with("name as given,none,"));
}

TEST_CASE("JSON and CSV round alike, halves away from zero")
{
    // 670 440 samples are 13.9675 s at 48 000: no binary number is just that, and the nearest lies
    // below. The others are halves in their own steps.
    Hold hold = full_hold();
    hold.onset = {0};
    hold.offset = {670'440};
    hold.deviation = Cents{-0.125};
    hold.level = Dbfs{-27.25};
    hold.quality = Quality{0.0625, 2.0625, {21.25}, {14.75}};
    const FileMeasures measures = with(heard(hold));
    const Json json = Json::parse(as_json(measures))["holds"][0];
    CHECK(json["duration_s"] == 13.968);
    CHECK(json["deviation_cents"] == -0.13);
    CHECK(json["level_dbfs"] == -27.3);
    CHECK(json["quality"]["jitter_percent"] == 0.063);
    CHECK(json["quality"]["hnr_db"] == 21.3);
    const std::string csv = as_csv(measures);
    for (const char* field :
         {",13.968,", ",-0.13,", ",-27.3,", ",0.063,", ",2.063,", ",21.3,14.8,"})
        CHECK_MESSAGE(csv.find(field) != std::string::npos, field);
    hold.deviation = Cents{-0.001};
    const FileMeasures almost = with(heard(hold));
    CHECK(as_json(almost).find("\"deviation_cents\":0.0,") != std::string::npos);
    CHECK(as_csv(almost).find(",0.00,") != std::string::npos);
}

TEST_CASE("a frame without voice has no f0")
{
    FrameReading voiced;
    voiced.centre = at(0.25);
    voiced.phonation = Phonation::voiced;
    voiced.f0 = Hertz{440.0};
    voiced.confidence = 0.98765;
    voiced.level = {-27.345};
    CHECK(frames_heading() == "time_s,f0_hz,confidence,level_dbfs,phonation\n");
    CHECK(as_frames_row(voiced, kRate) == "0.250000,440.00000,0.9877,-27.35,voiced\n");
    CHECK(as_frames_row(FrameReading{}, kRate) == "0.000000,,0.0000,-120.00,silence\n");
}
