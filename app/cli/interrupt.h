#pragma once
// Ctrl and C, or a terminal that is closed, noticed instead of obeyed at once, so that a practice
// can end with its summary and its last trial.

namespace holdwell {

// While one lives, an interrupt is remembered; a second Ctrl and C ends the program as usual.
class InterruptWatch {
public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;

    bool interrupted() const;

private:
    using Answer = void (*)(int);
    Answer before_;  // to Ctrl and C
    Answer before_hang_up_;
};

}  // namespace holdwell
