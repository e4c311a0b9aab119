#include "app/engine/sound_setup.h"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string_view>

namespace holdwell {

namespace {

constexpr Decibels kChanged{6.0};
constexpr Decibels kTogether{3.0};
constexpr std::size_t kLongestName = 60;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool may_be_a_serial_number(std::string_view word)
{
    return std::count_if(word.begin(), word.end(), is_digit) >= 4;
}

bool is_a_place(std::string_view word) { return word.find("hw:") != std::string_view::npos; }

std::string name_without_serials(const std::string& microphone)
{
    std::istringstream words{microphone};
    std::string name, word;
    while (words >> word) {
        if (may_be_a_serial_number(word) || is_a_place(word)) continue;
        name += (name.empty() ? "" : " ") + word;
    }
    if (name.size() > kLongestName) name.resize(kLongestName);
    return name.empty() ? "microphone" : name;
}

std::string whole(double value) { return std::to_string(std::lround(value)); }

}  // namespace

bool is_same_device(const CheckedSetup& a, const CheckedSetup& b)
{
    return a.microphone == b.microphone && a.rate == b.rate;
}

std::optional<Decibels> gain_change(const CheckedSetup& before, const CheckedSetup& now)
{
    if (!is_same_device(before, now)) return std::nullopt;
    const Decibels room = now.room - before.room;
    const Decibels voice = now.voice - before.voice;
    const double least = std::min(std::abs(room.value), std::abs(voice.value));
    const bool together = std::abs(room.value - voice.value) <= kTogether.value;
    if (least < kChanged.value || !together) return std::nullopt;
    return Decibels{(room.value + voice.value) / 2.0};
}

CheckedSetup counted_on(const std::optional<CheckedSetup>& before, CheckedSetup now)
{
    now.input_level = 1;
    if (!before || !is_same_device(*before, now)) return now;
    now.input_level = before->input_level + (gain_change(*before, now) ? 1 : 0);
    return now;
}

std::optional<SplCalibration> calibration_for(const std::optional<SplReference>& reference,
                                              const std::string& microphone, SampleRate rate)
{
    if (!reference || reference->microphone != microphone || reference->rate != rate)
        return std::nullopt;
    return SplCalibration::from(reference->reading);
}

std::string setup_fingerprint(const CheckedSetup& setup,
                              const std::optional<SplReference>& reference)
{
    std::string text = name_without_serials(setup.microphone);
    text += ", " + whole(setup.rate.hz) + " Hz";
    if (setup.input_level > 1) text += ", input level " + std::to_string(setup.input_level);
    if (calibration_for(reference, setup.microphone, setup.rate)) {
        const ReferenceReading& r = reference->reading;
        text +=
            ", " + whole(r.meter.value) + (r.weighting == Weighting::c ? " dB C at " : " dB Z at ");
        text += whole(r.distance.value * 100.0) + " cm";
    }
    return text;
}

}  // namespace holdwell
