#pragma once
// A trial and what it came to as one row of columns, bound and read in the same order.

#include "app/practice/records.h"
#include "app/store/connection.h"

namespace holdwell {

// The columns of table `trial` after its keys, in the order of put_trial() and take_trial().
#define HOLDWELL_TRIAL_COLUMNS                                                                     \
    "number, id, kind, target_midi, repetition, goal_s, band_cents, begun_s, measured, length_s, " \
    "has_gap, fry_s, "                                                                             \
    "in_band_s, f0_median_hz, deviation_cents, f0_sd_cents, octaves_off, interruptions, "          \
    "interrupted_s, onset, rise_s, air_lead_s, ended_by, snr_db, loudness_db, doubt, "             \
    "jitter_percent, shimmer_percent, hnr_db, cpps_db, "                                           \
    "direction, lowest_hz, highest_hz, jumps, gaps, largest_jump_semitones, smoothness, "          \
    "fading_suspected"

void put_trial(Query& query, const Trial& trial);
Trial take_trial(Query& query);

}  // namespace holdwell
