#include "app/files/measures_rounding.h"

#include <cmath>

namespace holdwell {

double rounded(double value, int decimals)
{
    const double steps_in_one = std::round(std::pow(10.0, decimals));
    return std::round(value * steps_in_one) / steps_in_one + 0.0;
}

}  // namespace holdwell
