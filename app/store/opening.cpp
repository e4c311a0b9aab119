#include "app/store/opening.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <system_error>

#include "app/store/rows.h"
#include "app/store/schema.h"
#include "app/store/store.h"

namespace holdwell {
namespace {

namespace fs = std::filesystem;

constexpr int kReadOnly = SQLITE_OPEN_READONLY | SQLITE_OPEN_NOMUTEX;
constexpr int kReadWrite = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX;

Error read_only(const fs::path& file)
{
    return {fmt::format("The records cannot be written: {} or its folder is read-only.",
                        file.string())};
}

Error cannot_make(const fs::path& path, std::error_code error)
{
    if (error == std::errc::permission_denied || error == std::errc::read_only_file_system)
        return read_only(path);
    if (error == std::errc::no_space_on_device)
        return {fmt::format("The disk is full: {} cannot be made.", path.string())};
    return {fmt::format("The records cannot be written: {}: {}.", path.string(), error.message())};
}

// Folders that are made get mode 0700, as the XDG Base Directory Specification asks; one that is
// there stays as its owner wants it.
std::error_code make_folder(const fs::path& folder)
{
    std::error_code error;
    if (folder.empty() || fs::is_directory(folder, error)) return {};
    if (folder.has_parent_path() && folder.parent_path() != folder) {
        error = make_folder(folder.parent_path());
        if (error) return error;
    }
    if (::mkdir(folder.c_str(), S_IRWXU) != 0 && errno != EEXIST)
        return {errno, std::system_category()};
    return {};
}

// SQLite gives its other files the mode that this one has.
std::error_code make_file(const fs::path& file)
{
    const int made = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (made < 0) return {errno, std::system_category()};
    // A file copied from elsewhere may be open to others. If its mode cannot be changed it is
    // not ours, and what may be read was not ours to decide.
    (void)::fchmod(made, S_IRUSR | S_IWUSR);
    ::close(made);
    return {};
}

// Characters that mean something in a URI, as SQLite's manual of URI filenames has them.
std::string uri_of(const fs::path& file)
{
    std::string uri = "file:";
    for (const char c : file.string()) {
        if (c == '?' || c == '#' || c == '%')
            uri += fmt::format("%{:02x}", static_cast<unsigned char>(c));
        else
            uri += c;
    }
    return uri + "?immutable=1";
}

// Nothing is changed in a file before it is known to be ours and not newer than we are.
std::optional<Error> objection_to(Connection& connection, const fs::path& file)
{
    SQLite::Database& database = connection.database();
    const int version = connection.version();
    const int id = database.execAndGet("PRAGMA application_id").getInt();
    const int tables = database.execAndGet("SELECT count(*) FROM sqlite_schema").getInt();
    if (id != kApplicationId && (tables > 0 || version != 0 || id != 0))
        return Error{
            fmt::format("{} belongs to another program; choose another folder for the records.",
                        file.string())};
    if (version > kStoreVersion)
        return Error{fmt::format(
            "The records in {} were written by a newer Holdwell (version {} of the file; this "
            "program reads up to {}); install the newer one. Nothing was changed.",
            file.string(), version, kStoreVersion)};
    return std::nullopt;
}

void settle(Connection& connection)
{
    SQLite::Database& database = connection.database();
    database.setBusyTimeout(static_cast<int>(kPatience.count()));
    database.exec("PRAGMA foreign_keys = ON");
    database.exec("PRAGMA secure_delete = ON");
    database.exec("PRAGMA temp_store = MEMORY");  // nothing of hers in files beside this one
    database.exec("PRAGMA trusted_schema = OFF");
    database.exec("PRAGMA cache_size = -16000");  // KiB
    // Not mapped into memory: then nothing is read ahead, and a client's three years took 309
    // instead of 28 ms of a cold disk (100 clients, 1.2 GB). Pages stay at 4 KiB: of 16 KiB they
    // took 32 instead of 38 ms (60 clients, 0.7 GB), but each trial that is stored writes four
    // times as much.
    add_rules(connection);
}

void settle_on_disk(Connection& connection)
{
    SQLite::Database& database = connection.database();
    // A statement that gives a row: exec() does not mind.
    database.exec("PRAGMA journal_mode = WAL");
    database.exec("PRAGMA synchronous = FULL");
}

}  // namespace

Opened open_file(const fs::path& file)
{
    std::error_code error = make_folder(file.parent_path());
    if (error) return cannot_make(file.parent_path(), error);
    error = make_file(file);
    if (error) return cannot_make(file, error);
    try {
        auto connection = std::make_unique<Connection>(file.string(), kReadWrite);
        connection->database().setBusyTimeout(static_cast<int>(kPatience.count()));
        if (const auto objection = objection_to(*connection, file)) return *objection;
        if (sqlite3_db_readonly(connection->database().getHandle(), "main") != 0)
            return read_only(file);
        settle(*connection);
        settle_on_disk(*connection);
        migrate(*connection);
        return connection;
    } catch (const SQLite::Exception& exception) {
        return refusal(exception, file);
    }
}

Opened open_file_to_read(const fs::path& file)
{
    // In a folder that cannot be written, a file without its journal can only be read as one that
    // nobody changes meanwhile.
    for (const auto& [name, flags] : {std::pair{file.string(), kReadOnly},
                                      std::pair{uri_of(file), kReadOnly | SQLITE_OPEN_URI}}) {
        try {
            auto connection = std::make_unique<Connection>(name, flags);
            settle(*connection);
            if (const auto objection = objection_to(*connection, file)) return *objection;
            if (connection->version() == kStoreVersion) return connection;
            return read_only(file);  // an older one would have to be migrated
        } catch (const SQLite::Exception& exception) {
            if (name != file.string()) return refusal(exception, file);
        }
    }
    return read_only(file);
}

Opened open_memory()
{
    try {
        auto connection = std::make_unique<Connection>(":memory:", kReadWrite | SQLITE_OPEN_CREATE);
        settle(*connection);
        migrate(*connection);
        return connection;
    } catch (const SQLite::Exception& exception) {
        return refusal(exception, ":memory:");
    }
}

Error refusal(const SQLite::Exception& exception, const fs::path& file)
{
    const std::string where = file.string();
    switch (exception.getErrorCode()) {
    case SQLITE_FULL:
        return {fmt::format("The disk is full: {} cannot grow.", where)};
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
        return {fmt::format(
            "Another program is writing to the records in {}; close it, or try again.", where)};
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
    case SQLITE_AUTH:
        return read_only(file);
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
        return {fmt::format(
            "{} is damaged or is no file of records; put a copy in its place, or move it away.",
            where)};
    case SQLITE_IOERR:
        return {fmt::format("The disk does not take or give what is asked of it: {}.", where)};
    default:
        return {fmt::format("The records in {} were not changed: {}.", where, exception.what())};
    }
}

}  // namespace holdwell
