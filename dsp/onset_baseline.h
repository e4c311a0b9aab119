#pragma once
// A personal baseline: the therapist names onsets that she heard, and the thresholds move to her
// ear.
//
// In:    measured features of an onset with the name that she gave it.
// Out:   thresholds for this client, and how well the rule agrees with her: percent and kappa.
// State: the labelled onsets.
//
// Two boundaries move: the rise between hard and easy, and the air between none and breathy. Each
// is set to the middle (in the logarithm) of the gap that splits her labels with the fewest
// contradictions, the nearest to the usual boundary if several do; between two names of which one
// was labelled fewer than three times it stays where it was.
//
// Agreement is found by leaving one out: each onset is named with thresholds learnt from all the
// others, so that it says what to expect of the next onset. Cohen's kappa, J. Cohen, "A coefficient
// of agreement for nominal scales", Educ. Psychol. Meas. 20, 37-46, 1960:
//   kappa = (p_o - p_e) / (1 - p_e),  p_e = sum over names of share(hers) * share(ours)

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "dsp/onset.h"

namespace holdwell {

struct LabelledOnset {
    OnsetFeatures features;
    OnsetClass label{OnsetClass::easy};  // easy, hard or breathy
};

inline constexpr std::size_t kFewestLabels = 10;

struct OnsetAgreement {
    int onsets{};
    double percent{};             // 0 .. 100; a hint of `unsure` does not agree
    std::optional<double> kappa;  // -1 .. 1; absent when every name, hers and ours, is the same
};

// Rows: the therapist's names, columns: ours, both in the order easy, hard, breathy, unsure.
using AgreementTable = std::array<std::array<int, 4>, 4>;
OnsetAgreement agreement_in(const AgreementTable& table);

// The usual thresholds when there are fewer than kFewestLabels.
OnsetThresholds personal_thresholds(std::span<const LabelledOnset> labelled,
                                    const OnsetThresholds& usual = {});

class OnsetBaseline {
public:
    OnsetBaseline() = default;
    // From the records.
    explicit OnsetBaseline(std::vector<LabelledOnset> labelled) : labelled_{std::move(labelled)} {}

    // A label of `unsure` says nothing and is not kept.
    void add(const LabelledOnset& onset);
    // The latest was given by mistake.
    void take_back();
    const std::vector<LabelledOnset>& labelled() const { return labelled_; }
    std::size_t count() const { return labelled_.size(); }
    bool is_ready() const { return count() >= kFewestLabels; }
    // The usual thresholds until it is ready.
    OnsetThresholds thresholds() const;
    // Nothing until it is ready.
    std::optional<OnsetAgreement> agreement() const;
    // The same of the usual thresholds, for comparison; they learn nothing.
    std::optional<OnsetAgreement> usual_agreement() const;

private:
    std::vector<LabelledOnset> labelled_;
};

}  // namespace holdwell
