#pragma once
// What `estimators` measures besides the categories.

#include <string>
#include <vector>

#include "dsp/units.h"

namespace holdwell::bench {

// The constant delay of the first `methods` methods, fitted on gliding harmonics. Ours stamps its
// estimates and is given none: what remains is printed with the extras.
std::vector<Seconds> fitted_delays(std::size_t methods);

enum class Extras { quick, all };

// False voicing, voicing errors, latency, cost; with `all` also bias and efficiency.
void print_extras(const std::vector<std::string>& names, const std::vector<Seconds>& delays,
                  int files, Extras extras);

}  // namespace holdwell::bench
