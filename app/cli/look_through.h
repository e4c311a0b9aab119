#pragma once
// A recording that the coach is to listen to, read through beforehand: what is wrong with it is
// said before anything else, in the words of `holdwell measure`.

#include <string>

#include "app/cli/console.h"

namespace holdwell {

enum class Soundness {
    whole,
    cut_off,   // what there is can be listened to; a failure all the same
    unusable,  // nothing in it can be heard
};

// One sentence on standard error for each thing that is wrong.
Soundness look_through(const std::string& path, const Console& console);

// What a command that listened to it ends with.
ExitStatus status_after(Soundness recording, ExitStatus listening);

// "PATH: holds no sound; ..."
std::string sentence_on_no_sound(const std::string& path);

}  // namespace holdwell
