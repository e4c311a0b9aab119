#pragma once
// What anything, a library too, writes on standard error while one of these lives.

#include <unistd.h>

#include <cstdio>
#include <string>

namespace holdwell::test {

class StandardErrorWatch {
public:
    StandardErrorWatch() : kept_{std::tmpfile()}
    {
        std::fflush(stderr);
        before_ = dup(STDERR_FILENO);
        dup2(fileno(kept_), STDERR_FILENO);
    }
    ~StandardErrorWatch()
    {
        std::fflush(stderr);
        dup2(before_, STDERR_FILENO);
        close(before_);
        std::fclose(kept_);
    }
    StandardErrorWatch(const StandardErrorWatch&) = delete;
    StandardErrorWatch& operator=(const StandardErrorWatch&) = delete;

    // So far.
    std::string text() const
    {
        std::fflush(stderr);
        std::string all;
        std::rewind(kept_);
        for (int c = std::fgetc(kept_); c != EOF; c = std::fgetc(kept_))
            all += static_cast<char>(c);
        return all;
    }

private:
    std::FILE* kept_;
    int before_{-1};
};

}  // namespace holdwell::test
