#pragma once
// Counts the allocations of the calling thread. A test program that links this file has its global
// operator new replaced by one that counts.

#include <cstddef>

namespace holdwell::test {

class AllocationGuard {
public:
    AllocationGuard();
    // On this thread, since construction.
    std::size_t allocations() const;

private:
    std::size_t at_start_;
};

}  // namespace holdwell::test
