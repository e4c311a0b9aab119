#pragma once
// Counts what this program asks of the C library: memory and locks. A program that links this file
// has malloc, pthread_mutex_lock and their like replaced by ones that count and then do the work,
// for every library in it: operator new and std::mutex come down to these.

namespace holdwell::test {

struct LibraryCalls {
    int memory{0};  // malloc, calloc, realloc, aligned memory, free
    int locks{0};   // mutexes and read-write locks, taken or tried

    bool operator==(const LibraryCalls&) const = default;
};

// Since the program began. Of all threads: make none while counting.
LibraryCalls library_calls();

inline LibraryCalls operator-(const LibraryCalls& a, const LibraryCalls& b)
{
    return {.memory = a.memory - b.memory, .locks = a.locks - b.locks};
}

}  // namespace holdwell::test
