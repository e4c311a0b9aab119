#include "app/base/whole_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string>

namespace holdwell {

namespace {

namespace fs = std::filesystem;

constexpr int kMostNumbers = 1000;
constexpr std::chrono::minutes kAbandonedAfter{10};
constexpr std::size_t kLongestStem = 200;  // bytes; a name may have 255
constexpr const char* kPartEnding = ".part";

std::string why_not(int reason)
{
    switch (reason) {
    case ENOSPC:
    case EDQUOT:
        return "there is no space left";
    case EACCES:
    case EPERM:
        return "it may not be written to";
    case EROFS:
        return "it is read-only";
    case ENOENT:
    case ENOTDIR:
        return "there is no such folder";
    case EISDIR:
        return "it is a folder";
    case ENAMETOOLONG:
        return "its name is too long";
    default:
        return std::strerror(reason);
    }
}

Error cannot_write(const fs::path& path, int reason)
{
    std::string sentence = path.string();
    sentence += " cannot be written: ";
    sentence += why_not(reason);
    sentence += "; choose another folder.";
    return {sentence};
}

fs::path folder_of(const fs::path& file)
{
    return file.has_parent_path() ? file.parent_path() : fs::path{"."};
}

// What the names of all parts of a file begin with.
std::string stem_of_parts(const fs::path& file)
{
    std::string stem = ".";
    stem += file.filename().string().substr(0, kLongestStem);
    stem += '.';
    return stem;
}

void remove_abandoned_parts(const fs::path& file)
{
    const std::string stem = stem_of_parts(file);
    std::error_code error;
    for (fs::directory_iterator at{folder_of(file), error}, end; !error && at != end;
         at.increment(error)) {
        const std::string name = at->path().filename().string();
        if (!name.starts_with(stem) || !name.ends_with(kPartEnding)) continue;
        std::error_code ignored;  // another program was quicker
        const auto age = fs::file_time_type::clock::now() - at->last_write_time(ignored);
        if (!ignored && age > kAbandonedAfter) fs::remove(at->path(), ignored);
    }
}

// 0 or the reason why not.
int force_folder(const fs::path& folder)
{
    const int file = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (file < 0) return 0;  // it may be written to and not read: then this cannot be helped
    const int reason = ::fsync(file) == 0 || errno == EINVAL ? 0 : errno;
    ::close(file);
    return reason;
}

enum class PartKind { without_name_if_possible, with_name };

// What is written before it has its name; gone with the object unless it was given one.
class Part {
public:
    Part(const fs::path& file, PartKind kind)
    {
        if (kind == PartKind::without_name_if_possible)
            file_ = ::open(folder_of(file).c_str(), O_TMPFILE | O_WRONLY | O_CLOEXEC,
                           S_IRUSR | S_IWUSR);
        if (file_ >= 0) return;
        remove_abandoned_parts(file);
        std::string pattern = (folder_of(file) / stem_of_parts(file)).string();
        pattern += "XXXXXX";
        pattern += kPartEnding;
        file_ = ::mkostemps(pattern.data(), static_cast<int>(std::strlen(kPartEnding)), O_CLOEXEC);
        if (file_ >= 0) path_ = pattern;
    }
    ~Part()
    {
        if (file_ >= 0) ::close(file_);
        if (!path_.empty()) ::unlink(path_.c_str());
    }
    Part(const Part&) = delete;
    Part& operator=(const Part&) = delete;

    bool is_open() const { return file_ >= 0; }

    // These return 0 or the reason why not.
    int write_all(std::string_view bytes)
    {
        while (!bytes.empty()) {
            const ssize_t written = ::write(file_, bytes.data(), bytes.size());
            if (written < 0 && errno == EINTR) continue;
            if (written <= 0) return written < 0 ? errno : EIO;
            bytes.remove_prefix(static_cast<std::size_t>(written));
        }
        return ::fsync(file_) == 0 ? 0 : errno;
    }

    // EEXIST where the name is taken.
    int take_free_name(const fs::path& name)
    {
        if (path_.empty()) {
            const std::string self = "/proc/self/fd/" + std::to_string(file_);
            const int linked =
                ::linkat(AT_FDCWD, self.c_str(), AT_FDCWD, name.c_str(), AT_SYMLINK_FOLLOW);
            return linked == 0 ? 0 : errno;
        }
        if (::renameat2(AT_FDCWD, path_.c_str(), AT_FDCWD, name.c_str(), RENAME_NOREPLACE) == 0)
            return given();
        if (errno != EINVAL && errno != ENOSYS) return errno;
        // A file system that does not know how: a link does not replace anything either.
        if (::link(path_.c_str(), name.c_str()) == 0) return 0;
        if (errno != EPERM && errno != ENOSYS && errno != EOPNOTSUPP) return errno;
        // Nor links: the name is taken with an empty file first, which fails where there is one.
        const int taken =
            ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, S_IRUSR | S_IWUSR);
        if (taken < 0) return errno;
        ::close(taken);
        return replace(name);
    }

    int replace(const fs::path& name)
    {
        return ::rename(path_.c_str(), name.c_str()) == 0 ? given() : errno;
    }

private:
    int given()
    {
        path_.clear();
        return 0;
    }

    int file_{-1};
    fs::path path_;  // empty: it has no name
};

fs::path numbered(const fs::path& path, int number)
{
    if (number == 1) return path;
    // The first point ends the name: "practices-2.json.sealed".
    const std::string name = path.filename().string();
    const std::size_t point = name.find('.', 1);
    std::string other = name.substr(0, point);
    other += '-';
    other += std::to_string(number);
    if (point != std::string::npos) other += name.substr(point);
    return path.parent_path() / other;
}

// Under the first free name.
Result<fs::path> named(Part& part, const fs::path& wanted)
{
    for (int number = 1; number <= kMostNumbers; ++number) {
        const fs::path name = numbered(wanted, number);
        const int reason = part.take_free_name(name);
        if (reason == EEXIST) continue;
        if (reason != 0) return cannot_write(wanted, reason);
        return name;
    }
    std::string sentence = "There are too many files of the name ";
    sentence += wanted.string();
    sentence += " already; delete some.";
    return Error{sentence};
}

}  // namespace

Result<fs::path> write_new_file(const fs::path& wanted, std::string_view bytes)
{
    std::error_code ignored;
    const fs::file_status there = fs::status(wanted, ignored);
    if (fs::exists(there) && !fs::is_regular_file(there))
        return Error{wanted.string() + " is no file that could be written; choose another name."};
    Part part{wanted, PartKind::without_name_if_possible};
    if (!part.is_open()) return cannot_write(wanted, errno);
    if (const int reason = part.write_all(bytes); reason != 0) return cannot_write(wanted, reason);
    auto name = named(part, wanted);
    if (!name) return name;
    const int reason = force_folder(folder_of(wanted));
    return reason == 0 ? name : Result<fs::path>{cannot_write(wanted, reason)};
}

Outcome replace_file(const fs::path& path, std::string_view bytes)
{
    Part part{path, PartKind::with_name};
    if (!part.is_open()) return cannot_write(path, errno);
    int reason = part.write_all(bytes);
    if (reason == 0) reason = part.replace(path);
    if (reason == 0) reason = force_folder(folder_of(path));
    if (reason != 0) return cannot_write(path, reason);
    return Done{};
}

}  // namespace holdwell
