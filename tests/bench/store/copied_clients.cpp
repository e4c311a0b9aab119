#include "tests/bench/store/copied_clients.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <memory>
#include <string>
#include <vector>

#include "tests/bench/store/years.h"

namespace holdwell::bench {
namespace {

struct Closer {
    void operator()(sqlite3* database) const { sqlite3_close(database); }
};

class Database {
public:
    explicit Database(const std::string& file)
    {
        sqlite3* database = nullptr;
        sqlite3_open(file.c_str(), &database);
        database_.reset(database);
    }
    // The first column of its rows.
    std::vector<std::string> run(const std::string& sql)
    {
        std::vector<std::string> values;
        const auto collect = [](void* to, int, char** texts, char**) {
            static_cast<std::vector<std::string>*>(to)->emplace_back(texts[0]);
            return 0;
        };
        char* message = nullptr;
        sqlite3_exec(database_.get(), sql.c_str(), collect, &values, &message);
        if (message != nullptr && error_.empty()) error_ = message;
        sqlite3_free(message);
        return values;
    }
    const std::string& error() const { return error_; }

private:
    std::unique_ptr<sqlite3, Closer> database_;
    std::string error_;
};

// "INSERT ... SELECT" of a client's rows: every column as it is, but the client's key and the ids.
std::string copy_of(Database& database, const std::string& table, const std::string& rows)
{
    std::string columns, values;
    for (const std::string& column :
         database.run(fmt::format("SELECT name FROM pragma_table_info('{}')", table))) {
        const char* comma = columns.empty() ? "" : ", ";
        std::string value = column;
        if (column == "client_key") value = "{to}";
        if (column == "id") value = "lower(hex(randomblob(16)))";
        if (column == "code") value = "'client ' || {to}";
        columns += comma + column;
        values += comma + value;
    }
    return fmt::format("INSERT INTO {0} ({1}) SELECT {2} FROM {0} WHERE client_key = {{from}} {3};",
                       table, columns, values, rows);
}

constexpr int kPracticesAMonth = 61;
constexpr int kMonths = kDays * kPracticesADay / kPracticesAMonth + 1;

void copy_month(Database& database, int there, int clients, int month)
{
    const std::string rows =
        fmt::format("AND practice_key BETWEEN {} AND {}", month * kPracticesAMonth + 1,
                    (month + 1) * kPracticesAMonth);
    std::string copies;
    if (month == 0) {
        for (const char* table : {"client", "plan", "plan_note", "plan_drill"})
            copies += copy_of(database, table, "");
    }
    copies += copy_of(database, "practice", rows) + copy_of(database, "trial", rows);
    for (int client = there + 1; client <= clients; ++client)
        database.run(fmt::format(fmt::runtime(copies), fmt::arg("to", client),
                                 fmt::arg("from", 1 + client % there)));
}

}  // namespace

Outcome copy_clients(const std::filesystem::path& file, int there, int clients)
{
    Database database{file.string()};
    database.run("PRAGMA synchronous = OFF; PRAGMA cache_size = -1000000");
    database.run("DROP INDEX trial_by_id");  // made at once at the end, which is quicker
    for (int month = 0; month < kMonths && database.error().empty(); ++month) {
        database.run("BEGIN");
        copy_month(database, there, clients, month);
        database.run("COMMIT");
        fmt::print(stderr, "month {} of {}\n", month + 1, kMonths);
    }
    database.run("CREATE UNIQUE INDEX trial_by_id ON trial (id)");
    database.run("PRAGMA wal_checkpoint(TRUNCATE)");
    if (!database.error().empty()) return Error{database.error()};
    return Done{};
}

}  // namespace holdwell::bench
