#pragma once
// Ctrl and C, noticed instead of obeyed at once, so that a practice can end with its summary.

namespace holdwell {

// While one lives, an interrupt is remembered; a second one ends the program as usual.
class InterruptWatch {
public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;

    bool interrupted() const;

private:
    using Answer = void (*)(int);
    Answer before_;
};

}  // namespace holdwell
