#pragma once
// A function run where the kernel ends the process at its first call of the system.

namespace holdwell::test {

enum class SealedEnd {
    returned,
    killed,    // it called the system
    unsealed,  // the kernel does not offer this, or the process could not be made: nothing is known
};

// Runs `function` in a process of its own in seccomp's strict mode (seccomp(2)): every system call
// but read, write, exit and sigreturn is death. Reading the clock is none (vdso(7)), nor is it
// forbidden to the audio thread.
SealedEnd run_sealed(void (*function)(void*), void* argument);

}  // namespace holdwell::test
