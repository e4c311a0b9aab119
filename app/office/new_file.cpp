#include "app/office/new_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <optional>

namespace holdwell {

namespace {

namespace fs = std::filesystem;

constexpr int kMostNumbers = 1000;

// A path for a sentence.
std::string shown(const fs::path& path) { return path.string(); }

Error cannot_write(const fs::path& path, int reason)
{
    const std::string why = reason == ENOSPC || reason == EDQUOT  ? "there is no space left"
                            : reason == EACCES || reason == EPERM ? "it may not be written to"
                            : reason == EROFS                     ? "it is read-only"
                            : reason == ENOENT || reason == ENOTDIR
                                ? "there is no such folder"
                                : std::string{std::strerror(reason)};
    return {fmt::format("{} cannot be written: {}; choose another folder.", shown(path), why)};
}

// Closed, and deleted unless it was given its name.
class PartFile {
public:
    explicit PartFile(fs::path path)
        : path_{std::move(path)}, file_{::open(path_.c_str(),
                                               O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC,
                                               S_IRUSR | S_IWUSR)},
          made_{file_ >= 0}
    {
    }
    ~PartFile()
    {
        if (file_ >= 0) ::close(file_);
        if (made_) ::unlink(path_.c_str());
    }
    PartFile(const PartFile&) = delete;
    PartFile& operator=(const PartFile&) = delete;

    bool is_open() const { return file_ >= 0; }

    // 0, or the reason why not.
    int write_all(std::string_view bytes)
    {
        while (!bytes.empty()) {
            const ssize_t written = ::write(file_, bytes.data(), bytes.size());
            if (written < 0 && errno == EINTR) continue;
            if (written <= 0) return written < 0 ? errno : EIO;
            bytes.remove_prefix(static_cast<std::size_t>(written));
        }
        if (::fsync(file_) != 0) return errno;
        const int closed = ::close(file_);
        file_ = -1;
        return closed == 0 ? 0 : errno;
    }

    // 0, EEXIST where the name is taken, or another reason.
    int take_name(const fs::path& name)
    {
        if (::renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, name.c_str(), RENAME_NOREPLACE) == 0)
            return given();
        if (errno != EINVAL && errno != ENOSYS) return errno;
        // A file system that does not know how: a link does not replace anything either.
        if (::link(path_.c_str(), name.c_str()) == 0) return 0;
        if (errno != EPERM && errno != ENOSYS && errno != EOPNOTSUPP) return errno;
        if (::access(name.c_str(), F_OK) == 0) return EEXIST;
        return ::rename(path_.c_str(), name.c_str()) == 0 ? given() : errno;
    }

private:
    int given()
    {
        made_ = false;
        return 0;
    }

    fs::path path_;
    int file_;
    bool made_;
};

void make_durable(const fs::path& folder)
{
    const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) return;
    ::fsync(file);
    ::close(file);
}

fs::path numbered(const fs::path& path, int number)
{
    if (number == 1) return path;
    // The first point ends the name: "practices-2.json.sealed".
    const std::string name = path.filename().string();
    const std::size_t point = name.find('.', 1);
    const std::string end = point == std::string::npos ? "" : name.substr(point);
    return path.parent_path() / fmt::format("{}-{}{}", name.substr(0, point), number, end);
}

fs::path folder_of(const fs::path& file)
{
    return file.has_parent_path() ? file.parent_path() : fs::path{"."};
}

bool is_plain(unsigned char c)
{
    return c >= 0x80 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

}  // namespace

Result<fs::path> write_new_file(const fs::path& wanted, std::string_view bytes)
{
    const fs::path folder = folder_of(wanted);
    PartFile part{folder / fmt::format(".{}.{}.part", wanted.filename().string(), ::getpid())};
    if (!part.is_open()) return cannot_write(wanted, errno);
    if (const int reason = part.write_all(bytes); reason != 0) return cannot_write(wanted, reason);
    for (int number = 1; number <= kMostNumbers; ++number) {
        const fs::path name = numbered(wanted, number);
        const int reason = part.take_name(name);
        if (reason == EEXIST) continue;
        if (reason != 0) return cannot_write(wanted, reason);
        make_durable(folder);
        return name;
    }
    return Error{fmt::format("There are too many files of the name {} already; delete some.",
                             shown(wanted))};
}

fs::path path_for(const PlaceForFile& place)
{
    if (place.wanted.empty()) return place.folder / place.name;
    std::error_code ignored;
    return fs::is_directory(place.wanted, ignored) ? place.wanted / place.name : place.wanted;
}

std::string name_part(const std::string& text)
{
    std::string name;
    for (const char c : text) {
        if (is_plain(static_cast<unsigned char>(c)) || c == '_')
            name += c;
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    while (!name.empty() && name.back() == '-') name.pop_back();
    return name.empty() ? "client" : name;
}

}  // namespace holdwell
