#include "dsp/onset_baseline.h"

#include <doctest/doctest.h>

#include <vector>

using namespace holdwell;

namespace {

LabelledOnset labelled(OnsetClass label, Seconds rise, Seconds air = 0ms)
{
    OnsetFeatures f;
    f.rise = rise;
    f.air_lead = air;
    f.snr = Decibels{40.0};
    return {f, label};
}

// A therapist who calls everything up to 25 ms hard, everything from 40 ms on easy.
OnsetBaseline strict_ear()
{
    OnsetBaseline baseline;
    for (const double ms : {4.0, 8.0, 15.0, 19.0, 22.0, 25.0})
        baseline.add(labelled(OnsetClass::hard, Seconds{ms / 1000.0}));
    for (const double ms : {42.0, 55.0, 70.0, 90.0, 120.0, 150.0})
        baseline.add(labelled(OnsetClass::easy, Seconds{ms / 1000.0}));
    return baseline;
}

}  // namespace

TEST_CASE("kappa agrees with worked examples in print")
{
    // J. L. Fleiss, "Statistical Methods for Rates and Proportions", 2nd ed., Wiley 1981,
    // table 13.1 (100 patients, two raters, three diagnoses): p_o = 0.89, p_e = 0.66, kappa = 0.68.
    // The table is from memory; by hand: p_e = 0.8 * 0.8 + 0.1 * 0.05 + 0.1 * 0.15 = 0.66, kappa =
    // 0.23 / 0.34 = 0.676.
    const AgreementTable fleiss{{{75, 1, 4, 0}, {5, 4, 1, 0}, {0, 0, 10, 0}, {0, 0, 0, 0}}};
    const OnsetAgreement three = agreement_in(fleiss);
    CHECK(three.onsets == 100);
    CHECK(three.percent == doctest::Approx(89.0));
    REQUIRE(three.kappa);
    CHECK(*three.kappa == doctest::Approx(0.23 / 0.34));

    // J. Sim and C. C. Wright, "The kappa statistic in reliability studies", Phys. Ther. 85,
    // 257-268, 2005, table 1 (39 patients, two raters, two ratings): kappa = 0.67. The table is
    // from memory; by hand: p_o = 33 / 39, p_e = (24 * 26 + 15 * 13) / 39^2 = 819 / 1521.
    const AgreementTable sim_wright{{{22, 2, 0, 0}, {4, 11, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}};
    const OnsetAgreement two = agreement_in(sim_wright);
    REQUIRE(two.kappa);
    CHECK(*two.kappa == doctest::Approx(2.0 / 3.0));
}

TEST_CASE("kappa is 1 for like names, 0 for chance, negative for less, absent for one name only")
{
    // By the formula.
    CHECK(*agreement_in({{{5, 0, 0, 0}, {0, 5, 0, 0}}}).kappa == doctest::Approx(1.0));
    CHECK(*agreement_in({{{5, 5, 0, 0}, {5, 5, 0, 0}}}).kappa == doctest::Approx(0.0));
    CHECK(*agreement_in({{{0, 5, 0, 0}, {5, 0, 0, 0}}}).kappa == doctest::Approx(-1.0));
    const OnsetAgreement one_name = agreement_in({{{12, 0, 0, 0}}});
    CHECK_FALSE(one_name.kappa);
    CHECK(one_name.percent == doctest::Approx(100.0));
    CHECK_FALSE(agreement_in({}).kappa);
}

TEST_CASE("fewer than ten labels change nothing")
{
    OnsetBaseline baseline;
    for (int i = 0; i < 9; ++i)
        baseline.add(labelled(i % 2 == 0 ? OnsetClass::hard : OnsetClass::easy,
                              Seconds{0.03 + 0.05 * (i % 2)}));
    for (int i = 0; i < 5; ++i) baseline.add(labelled(OnsetClass::unsure, 10ms));
    CHECK(baseline.count() == 9);
    CHECK_FALSE(baseline.is_ready());
    CHECK_FALSE(baseline.agreement());
    CHECK(baseline.thresholds().hard_rise == OnsetThresholds{}.hard_rise);
}

TEST_CASE("the boundary between hard and easy moves to the therapist's ear")
{
    const OnsetBaseline baseline = strict_ear();
    const OnsetThresholds moved = baseline.thresholds();
    // The boundary is the middle, in the logarithm, of 25 and 42 ms: 32.4 ms.
    CHECK(moved.hard_rise.count() < 0.0324);
    CHECK(moved.easy_rise.count() > 0.0324);
    CHECK(class_of(labelled(OnsetClass::hard, 24ms).features, moved) == OnsetClass::hard);
    CHECK(class_of(labelled(OnsetClass::hard, 24ms).features) == OnsetClass::easy);
    CHECK(class_of(labelled(OnsetClass::easy, 60ms).features, moved) == OnsetClass::easy);
    // No breathy label: what is air stays as it was.
    CHECK(moved.breathy_air == OnsetThresholds{}.breathy_air);

    REQUIRE(baseline.agreement());
    CHECK(baseline.agreement()->onsets == 12);
    CHECK(baseline.agreement()->percent >= 80.0);
    CHECK(baseline.agreement()->kappa.value_or(0.0) >= 0.6);
}

TEST_CASE("the boundary of air moves too, within bounds")
{
    OnsetBaseline baseline;
    for (const double ms : {0.0, 20.0, 60.0, 80.0, 90.0})
        baseline.add(labelled(OnsetClass::easy, 80ms, Seconds{ms / 1000.0}));
    for (const double ms : {130.0, 160.0, 200.0, 300.0, 350.0})
        baseline.add(labelled(OnsetClass::breathy, 80ms, Seconds{ms / 1000.0}));
    const OnsetThresholds moved = baseline.thresholds();
    CHECK(class_of(labelled(OnsetClass::easy, 80ms, 60ms).features, moved) == OnsetClass::easy);
    CHECK(class_of(labelled(OnsetClass::easy, 80ms, 200ms).features, moved) == OnsetClass::breathy);

    OnsetBaseline odd;
    for (int i = 0; i < 6; ++i) odd.add(labelled(OnsetClass::hard, Seconds{0.3 + 0.01 * i}));
    for (int i = 0; i < 6; ++i) odd.add(labelled(OnsetClass::easy, Seconds{0.5 + 0.01 * i}));
    CHECK(odd.thresholds().easy_rise <= Seconds{80ms});
}

TEST_CASE("labels that contradict the features give a poor agreement, not a good one")
{
    OnsetBaseline baseline;
    for (int i = 0; i < 12; ++i)
        baseline.add(labelled(i % 2 == 0 ? OnsetClass::hard : OnsetClass::easy,
                              Seconds{0.005 + 0.01 * (i / 2)}));
    REQUIRE(baseline.agreement());
    CHECK(baseline.agreement()->percent <= 60.0);
    CHECK(baseline.agreement()->kappa.value_or(0.0) <= 0.2);
}

TEST_CASE("labels come back from the records, and the latest can be taken back")
{
    const OnsetBaseline hers = strict_ear();
    OnsetBaseline again{hers.labelled()};
    CHECK(again.count() == hers.count());
    CHECK(again.thresholds().hard_rise == hers.thresholds().hard_rise);
    again.take_back();
    CHECK(again.count() + 1 == hers.count());
    OnsetBaseline none;
    none.take_back();
    CHECK(none.count() == 0);
}

TEST_CASE("what she was taught is compared with what would be named without her")
{
    // Her hard ends between 25 and 42 ms, the usual easy begins at 20: with the usual thresholds
    // every rise of hers above 20 ms that she calls hard is contradicted.
    const OnsetBaseline hers = strict_ear();
    REQUIRE(hers.usual_agreement());
    CHECK(hers.usual_agreement()->percent < hers.agreement()->percent);
    CHECK_FALSE(OnsetBaseline{}.usual_agreement());
}

TEST_CASE("with exactly ten labels each is judged by what the other nine teach")
{
    // Hers are split between 25 and 70 ms, where the usual thresholds call all ten easy.
    OnsetBaseline ten;
    for (int i = 0; i < 5; ++i) {
        ten.add(labelled(OnsetClass::hard, Seconds{0.025 + 0.0001 * i}));
        ten.add(labelled(OnsetClass::easy, Seconds{0.070 + 0.001 * i}));
    }
    REQUIRE(ten.agreement());
    CHECK(ten.agreement()->percent == doctest::Approx(100.0));
    CHECK(ten.usual_agreement()->percent == doctest::Approx(50.0));
}
