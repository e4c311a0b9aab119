#pragma once
// Solves A x = b for a small symmetric positive definite A, in place.

#include <cmath>
#include <cstddef>
#include <span>

namespace holdwell {

// Factorises the lower triangle of the n x n row-major matrix as A = L L', L's diagonal inverted;
// false when A is not positive definite to working precision.
inline bool cholesky_factor(std::span<double> a, std::size_t n) noexcept
{
    for (std::size_t j = 0; j < n; ++j) {
        double* row_j = &a[j * n];
        double d = row_j[j];
        for (std::size_t k = 0; k < j; ++k) d -= row_j[k] * row_j[k];
        if (!(d > 1e-30)) return false;
        const double inverse = 1.0 / std::sqrt(d);
        row_j[j] = inverse;
        for (std::size_t i = j + 1; i < n; ++i) {
            double* row_i = &a[i * n];
            double s = row_i[j];
            for (std::size_t k = 0; k < j; ++k) s -= row_i[k] * row_j[k];
            row_i[j] = s * inverse;
        }
    }
    return true;
}

// Solves L y = b with the factor from cholesky_factor; b becomes y, and y'y is b'A^-1 b.
inline void cholesky_forward(std::span<const double> l, std::size_t n, std::span<double> b) noexcept
{
    for (std::size_t i = 0; i < n; ++i) {
        double s = b[i];
        for (std::size_t k = 0; k < i; ++k) s -= l[i * n + k] * b[k];
        b[i] = s * l[i * n + i];
    }
}

// Solves L L' x = b with the factor from cholesky_factor; b becomes x.
inline void cholesky_solve(std::span<const double> l, std::size_t n, std::span<double> b) noexcept
{
    cholesky_forward(l, n, b);
    for (std::size_t i = n; i-- > 0;) {
        double s = b[i];
        for (std::size_t k = i + 1; k < n; ++k) s -= l[k * n + i] * b[k];
        b[i] = s * l[i * n + i];
    }
}

}  // namespace holdwell
