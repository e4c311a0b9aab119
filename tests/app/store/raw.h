#pragma once
// What lies on disk, seen past the store: bytes of files, and SQL by SQLite's own library.

#include <sqlite3.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace holdwell::test {

inline std::string bytes_of(const std::filesystem::path& file)
{
    std::ifstream in{file, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, {}};
}

// All bytes in all files of a folder: the records, their journal, and whatever else lies there.
inline std::string all_bytes_in(const std::filesystem::path& folder)
{
    std::string all;
    for (const auto& entry : std::filesystem::directory_iterator{folder})
        all += bytes_of(entry.path());
    return all;
}

// A connection of a program that is not ours.
class RawDatabase {
public:
    explicit RawDatabase(const std::string& file) { sqlite3_open(file.c_str(), &database_); }
    ~RawDatabase() { sqlite3_close(database_); }
    RawDatabase(const RawDatabase&) = delete;
    RawDatabase& operator=(const RawDatabase&) = delete;

    // Every value of every row, as text; the message when it was refused.
    std::vector<std::string> run(const std::string& sql)
    {
        std::vector<std::string> values;
        char* message = nullptr;
        const auto collect = [](void* to, int count, char** texts, char**) {
            for (int i = 0; i < count; ++i)
                static_cast<std::vector<std::string>*>(to)->emplace_back(
                    texts[i] != nullptr ? texts[i] : "NULL");
            return 0;
        };
        sqlite3_exec(database_, sql.c_str(), collect, &values, &message);
        if (message != nullptr) values = {message};
        sqlite3_free(message);
        return values;
    }
    std::string value(const std::string& sql)
    {
        const std::vector<std::string> values = run(sql);
        return values.empty() ? "" : values.front();
    }

private:
    sqlite3* database_{nullptr};
};

}  // namespace holdwell::test
