#include "tests/support/allocation_guard.h"

#include <malloc.h>

#include <algorithm>
#include <cstdlib>
#include <new>

namespace {

thread_local std::size_t allocations_so_far = 0;
thread_local std::size_t bytes_in_use = 0;  // wraps around when another thread's memory is freed

void* counted(void* memory)
{
    ++allocations_so_far;
    if (memory == nullptr) std::abort();  // no test of ours allocates so much
    bytes_in_use += malloc_usable_size(memory);
    return memory;
}

void give_back(void* memory) noexcept
{
    bytes_in_use -= malloc_usable_size(memory);
    std::free(memory);
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

void operator delete(void* memory) noexcept { give_back(memory); }
void operator delete(void* memory, std::size_t) noexcept { give_back(memory); }
void operator delete(void* memory, std::align_val_t) noexcept { give_back(memory); }
void operator delete(void* memory, std::size_t, std::align_val_t) noexcept { give_back(memory); }

namespace holdwell::test {

AllocationGuard::AllocationGuard() : at_start_{allocations_so_far}, kept_at_start_{bytes_in_use} {}

std::size_t AllocationGuard::allocations() const { return allocations_so_far - at_start_; }
std::size_t AllocationGuard::bytes_kept() const { return bytes_in_use - kept_at_start_; }

}  // namespace holdwell::test
