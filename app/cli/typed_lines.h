#pragma once
// Lines typed at the terminal, asked for without waiting, so that a practice goes on meanwhile.

#include <functional>
#include <string>

namespace holdwell {

struct TypedLine {
    enum class Kind { none_yet, line, ended } kind{Kind::none_yet};
    std::string text{};  // of a line, without its end
};
using TypedLines = std::function<TypedLine()>;

// Of the process's own input. One reader at a time.
TypedLines lines_of_standard_input();

}  // namespace holdwell
