#pragma once
// A part of a test in a process of its own: to be killed, to be limited, or to be nobody.

#include <signal.h>
#include <sys/types.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <functional>
#include <optional>
#include <string>

namespace holdwell::test {

class Child {
public:
    // `work` writes to the descriptor that it is given, and its return value is the exit status.
    // It must use no assertions: they would speak in a process that nobody reads.
    explicit Child(const std::function<int(int)>& work)
    {
        std::array<int, 2> ends{};
        if (::pipe(ends.data()) != 0) return;
        pid_ = ::fork();
        if (pid_ == 0) {
            ::close(ends[0]);
            ::_exit(work(ends[1]));
        }
        ::close(ends[1]);
        read_end_ = ends[0];
    }
    ~Child()
    {
        kill();
        if (read_end_ >= 0) ::close(read_end_);
    }
    Child(const Child&) = delete;
    Child& operator=(const Child&) = delete;

    void kill()
    {
        if (pid_ > 0 && !status_) ::kill(pid_, SIGKILL);
        (void)status();
    }
    // Waits for its end; -1 when it did not end by itself.
    int status()
    {
        if (status_ || pid_ <= 0) return status_.value_or(-1);
        int raw = 0;
        ::waitpid(pid_, &raw, 0);
        status_ = WIFEXITED(raw) ? WEXITSTATUS(raw) : -1;
        return *status_;
    }
    // Waits until it has written so many bytes, or has ended.
    void wait_until_written(std::size_t bytes)
    {
        while (written_.size() < bytes && read_some()) {
        }
    }
    // All that it wrote, when it has ended.
    const std::string& written()
    {
        (void)status();
        while (read_some()) {
        }
        return written_;
    }

private:
    bool read_some()
    {
        std::array<char, 4096> part{};
        const ssize_t got = ::read(read_end_, part.data(), part.size());
        if (got > 0) written_.append(part.data(), static_cast<std::size_t>(got));
        return got > 0;
    }

    pid_t pid_{-1};
    int read_end_{-1};
    std::string written_;
    std::optional<int> status_;
};

// To be called within a child: from now on files are refused to it as to anybody. Root is refused
// nothing, so it becomes another user.
inline void become_ordinary()
{
    constexpr uid_t kNobody = 65534;
    if (::geteuid() != 0) return;
    if (::setgid(kNobody) != 0 || ::setuid(kNobody) != 0) ::_exit(99);
}

// The files of that user.
inline void give_to_ordinary(const std::string& path)
{
    constexpr uid_t kNobody = 65534;
    if (::geteuid() == 0 && ::chown(path.c_str(), kNobody, kNobody) != 0) ::_exit(98);
}

}  // namespace holdwell::test
