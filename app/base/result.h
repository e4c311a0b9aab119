#pragma once
// A value, or one sentence that says why there is none. std::expected's member names, so that it
// can take over one day.

#include <string>
#include <utility>
#include <variant>

namespace holdwell {

struct Error {
    std::string message;  // one sentence: what, where, what to do
};

template <typename T>
class [[nodiscard]] Result {
public:
    Result(T v) : state_{std::move(v)} {}
    Result(Error e) : state_{std::move(e)} {}

    bool has_value() const { return std::holds_alternative<T>(state_); }
    explicit operator bool() const { return has_value(); }
    const T& value() const { return std::get<T>(state_); }
    T& value() { return std::get<T>(state_); }
    const Error& error() const { return std::get<Error>(state_); }

private:
    std::variant<T, Error> state_;
};

struct Done {};
using Outcome = Result<Done>;

}  // namespace holdwell
