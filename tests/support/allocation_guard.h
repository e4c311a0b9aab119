#pragma once
// Counts the allocations of the calling thread, and what it keeps of them. A test program that
// links this file has its global operator new replaced by one that counts.

#include <cstddef>

namespace holdwell::test {

class AllocationGuard {
public:
    AllocationGuard();
    // On this thread, since construction.
    std::size_t allocations() const;
    // Allocated since construction and not yet given back; by operator new alone, so without what C
    // libraries keep.
    std::size_t bytes_kept() const;

private:
    std::size_t at_start_;
    std::size_t kept_at_start_;
};

}  // namespace holdwell::test
