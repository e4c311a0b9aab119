#pragma once
// Solves A x = b for a small symmetric positive definite A, in place.
//
// Matrices and vectors are anything that is indexed, of double, or of Two (two.h): then two systems
// of the same size are solved side by side.

#include <cstddef>

#include "dsp/two.h"

namespace holdwell {

// Factorises the lower triangle of the n x n row-major matrix as A = L L', L's diagonal inverted;
// false when A is not positive definite to working precision.
template <class Matrix>
bool cholesky_factor(Matrix& a, std::size_t n) noexcept
{
    for (std::size_t j = 0; j < n; ++j) {
        auto* row_j = &a[j * n];
        auto d = row_j[j];
        for (std::size_t k = 0; k < j; ++k) d -= row_j[k] * row_j[k];
        if (!is_above(d, 1e-30)) return false;
        const auto inverse = 1.0 / root(d);
        row_j[j] = inverse;
        for (std::size_t i = j + 1; i < n; ++i) {
            auto* row_i = &a[i * n];
            auto s = row_i[j];
            for (std::size_t k = 0; k < j; ++k) s -= row_i[k] * row_j[k];
            row_i[j] = s * inverse;
        }
    }
    return true;
}

// Solves L y = b with the factor from cholesky_factor; b becomes y, and y'y is b'A^-1 b.
template <class Matrix, class Vector>
void cholesky_forward(const Matrix& l, std::size_t n, Vector& b) noexcept
{
    for (std::size_t i = 0; i < n; ++i) {
        auto s = b[i];
        for (std::size_t k = 0; k < i; ++k) s -= l[i * n + k] * b[k];
        b[i] = s * l[i * n + i];
    }
}

// Solves L L' x = b with the factor from cholesky_factor; b becomes x.
template <class Matrix, class Vector>
void cholesky_solve(const Matrix& l, std::size_t n, Vector& b) noexcept
{
    cholesky_forward(l, n, b);
    for (std::size_t i = n; i-- > 0;) {
        auto s = b[i];
        for (std::size_t k = i + 1; k < n; ++k) s -= l[k * n + i] * b[k];
        b[i] = s * l[i * n + i];
    }
}

}  // namespace holdwell
