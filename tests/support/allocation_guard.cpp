#include "tests/support/allocation_guard.h"

#include <algorithm>
#include <cstdlib>
#include <new>

namespace {

thread_local std::size_t allocations_so_far = 0;

void* counted(void* memory)
{
    ++allocations_so_far;
    if (memory == nullptr) std::abort();  // no test of ours allocates so much
    return memory;
}

}  // namespace

// The array and nothrow forms of the standard library call these.
void* operator new(std::size_t size)
{
    return counted(std::malloc(std::max<std::size_t>(size, 1)));
}

void* operator new(std::size_t size, std::align_val_t alignment)
{
    const auto step = static_cast<std::size_t>(alignment);
    const std::size_t whole = (std::max<std::size_t>(size, 1) + step - 1) / step * step;
    return counted(std::aligned_alloc(step, whole));
}

void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::align_val_t) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept { std::free(memory); }

namespace holdwell::test {

AllocationGuard::AllocationGuard() : at_start_{allocations_so_far} {}

std::size_t AllocationGuard::allocations() const { return allocations_so_far - at_start_; }

}  // namespace holdwell::test
