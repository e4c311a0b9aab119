#include "app/cli/typed_lines.h"

#include <poll.h>
#include <unistd.h>

#include <array>
#include <memory>

namespace holdwell {

namespace {

class StandardInput {
public:
    TypedLine take()
    {
        read_what_is_there();
        if (const std::size_t end = text_.find('\n'); end != std::string::npos) {
            TypedLine line{.kind = TypedLine::Kind::line, .text = text_.substr(0, end)};
            text_.erase(0, end + 1);
            if (!line.text.empty() && line.text.back() == '\r') line.text.pop_back();
            return line;
        }
        if (!ended_) return {};
        if (text_.empty()) return {.kind = TypedLine::Kind::ended};
        TypedLine last{.kind = TypedLine::Kind::line, .text = text_};
        text_.clear();
        return last;
    }

private:
    void read_what_is_there()
    {
        pollfd input{.fd = STDIN_FILENO, .events = POLLIN, .revents = 0};
        while (!ended_ && ::poll(&input, 1, 0) > 0) {
            std::array<char, 512> chunk{};
            const ssize_t count = ::read(STDIN_FILENO, chunk.data(), chunk.size());
            if (count <= 0) {
                ended_ = true;
                return;
            }
            text_.append(chunk.data(), static_cast<std::size_t>(count));
        }
    }

    std::string text_;
    bool ended_{false};
};

}  // namespace

TypedLines lines_of_standard_input()
{
    return [input = std::make_shared<StandardInput>()] { return input->take(); };
}

}  // namespace holdwell
