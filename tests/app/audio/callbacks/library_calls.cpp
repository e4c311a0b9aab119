#include "tests/app/audio/callbacks/library_calls.h"

#include <dlfcn.h>
#include <pthread.h>

#include <atomic>
#include <cerrno>
#include <cstddef>

// The C library's own functions under their other names (glibc, malloc/malloc.c).
extern "C" {
void* __libc_malloc(std::size_t);
void* __libc_calloc(std::size_t, std::size_t);
void* __libc_realloc(void*, std::size_t);
void* __libc_memalign(std::size_t, std::size_t);
void __libc_free(void*);
}

namespace {

std::atomic<int> memory_calls{0};
std::atomic<int> lock_calls{0};

// The function that `name` would mean without the one here. Asked for at each call, as a variable
// would be initialised under a lock.
template <typename Function>
Function* next(const char* name)
{
    return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

}  // namespace

extern "C" {

void* malloc(std::size_t size) noexcept
{
    ++memory_calls;
    return __libc_malloc(size);
}

void* calloc(std::size_t count, std::size_t size) noexcept
{
    ++memory_calls;
    return __libc_calloc(count, size);
}

void* realloc(void* old, std::size_t size) noexcept
{
    ++memory_calls;
    return __libc_realloc(old, size);
}

void* aligned_alloc(std::size_t alignment, std::size_t size) noexcept
{
    ++memory_calls;
    return __libc_memalign(alignment, size);
}

int posix_memalign(void** result, std::size_t alignment, std::size_t size) noexcept
{
    ++memory_calls;
    *result = __libc_memalign(alignment, size);
    return *result == nullptr ? ENOMEM : 0;
}

void free(void* old) noexcept
{
    ++memory_calls;
    __libc_free(old);
}

int pthread_mutex_lock(pthread_mutex_t* mutex) noexcept
{
    ++lock_calls;
    return next<int(pthread_mutex_t*)>("pthread_mutex_lock")(mutex);
}

int pthread_mutex_trylock(pthread_mutex_t* mutex) noexcept
{
    ++lock_calls;
    return next<int(pthread_mutex_t*)>("pthread_mutex_trylock")(mutex);
}

int pthread_rwlock_rdlock(pthread_rwlock_t* lock) noexcept
{
    ++lock_calls;
    return next<int(pthread_rwlock_t*)>("pthread_rwlock_rdlock")(lock);
}

int pthread_rwlock_wrlock(pthread_rwlock_t* lock) noexcept
{
    ++lock_calls;
    return next<int(pthread_rwlock_t*)>("pthread_rwlock_wrlock")(lock);
}
}

namespace holdwell::test {

LibraryCalls library_calls() { return {.memory = memory_calls, .locks = lock_calls}; }

}  // namespace holdwell::test
