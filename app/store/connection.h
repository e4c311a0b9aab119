#pragma once
// One connection to a SQLite file, and queries on it that bind and read whole quantities.
//
// Columns are read by SQLite's own functions: SQLiteCpp shares the statement with each column that
// it hands out, which made the reading of 39 420 trials take 48 instead of @@ ms of the processor.
//
// Inside this folder SQLite's refusals travel as SQLite::Exception; store.cpp, the only way in,
// turns each into one sentence. A stored text that names no enumerator is noted as damage.

#include <SQLiteCpp/SQLiteCpp.h>
#include <sqlite3.h>

#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <unordered_map>
#include <utility>
#include <vector>

#include "app/practice/identity.h"
#include "app/store/names.h"
#include "dsp/tuning.h"

namespace holdwell {

// The same statement, to be run by one library and read by the other.
struct PreparedStatement {
    std::unique_ptr<SQLite::Statement> statement;
    sqlite3_stmt* columns{nullptr};
};

class Connection {
public:
    Connection(const std::string& file, int flags);

    SQLite::Database& database() { return database_; }
    // Prepared once; `sql` is a literal, told apart by its address.
    PreparedStatement& prepared(const char* sql);
    int version();  // PRAGMA user_version

    void note_damage(std::string_view what);
    std::string take_damage() { return std::exchange(damage_, {}); }  // empty: none

private:
    SQLite::Database database_;
    std::unordered_map<const char*, PreparedStatement> statements_;
    std::string damage_;
};

template <typename T>
inline constexpr bool kIsOptional = false;
template <typename T>
inline constexpr bool kIsOptional<std::optional<T>> = true;

// A statement being run: parameters are bound, and columns read, from left to right. Reset when it
// goes, so that it keeps no other program waiting.
class Query {
public:
    Query(Connection& connection, const char* sql) : Query{connection, connection.prepared(sql)} {}
    ~Query() { statement_.tryReset(); }
    Query(const Query&) = delete;
    Query& operator=(const Query&) = delete;

    template <typename... Values>
    Query& with(const Values&... values)
    {
        (put(values), ...);
        return *this;
    }
    Query& with_nulls(int count);

    bool next();  // to the next row
    void run();   // of a statement that gives none

    template <typename T>
    T take();
    void skip(int columns) { column_ += columns; }

private:
    Query(Connection& connection, PreparedStatement& prepared)
        : connection_{connection}, statement_{*prepared.statement}, columns_{prepared.columns}
    {
    }
    template <typename T>
    void put(const T& value);
    std::string_view take_text();

    Connection& connection_;
    SQLite::Statement& statement_;
    sqlite3_stmt* columns_;
    int parameter_{1};
    int column_{0};
};

std::string stored_day(Date date);                   // "2027-03-09"
std::optional<Date> date_of(std::string_view text);  // of that form only

template <typename T>
void Query::put(const T& value)
{
    if constexpr (kIsOptional<T>) {
        if (value) return put(*value);
        with_nulls(1);
    } else if constexpr (std::is_same_v<T, Id>) {
        put(value.text);
    } else if constexpr (std::is_same_v<T, Date>) {
        put(stored_day(value));
    } else if constexpr (std::is_same_v<T, ClockTime>) {
        put(static_cast<int>(value.since_midnight.count()));
    } else if constexpr (std::is_same_v<T, Note>) {
        put(value.midi);
    } else if constexpr (std::is_same_v<T, Seconds>) {
        put(value.count());
    } else if constexpr (std::is_same_v<T, SampleRate>) {
        put(value.hz);
    } else if constexpr (std::is_same_v<T, std::vector<std::byte>>) {
        // An empty vector may have no address, which would be bound as NULL.
        statement_.bind(parameter_++, value.empty() ? "" : static_cast<const void*>(value.data()),
                        static_cast<int>(value.size()));
    } else if constexpr (std::is_enum_v<T>) {
        put(std::string{stored_name(value)});
    } else if constexpr (std::is_same_v<T, bool>) {
        put(value ? 1 : 0);
    } else if constexpr (std::is_arithmetic_v<T> || std::is_same_v<T, std::string>) {
        statement_.bind(parameter_++, value);
    } else {
        put(value.value);  // a quantity of dsp/units.h
    }
}

template <typename T>
T Query::take()
{
    if constexpr (kIsOptional<T>) {
        if (sqlite3_column_type(columns_, column_) != SQLITE_NULL)
            return take<typename T::value_type>();
        ++column_;
        return std::nullopt;
    } else if constexpr (std::is_same_v<T, Id>) {
        return Id{take<std::string>()};
    } else if constexpr (std::is_same_v<T, Date>) {
        const std::string_view text = take_text();
        const std::optional<Date> date = date_of(text);
        if (!date) connection_.note_damage(text);
        return date.value_or(Date{});
    } else if constexpr (std::is_same_v<T, ClockTime>) {
        return ClockTime{std::chrono::minutes{take<int>()}};
    } else if constexpr (std::is_same_v<T, Note>) {
        return Note{take<int>()};
    } else if constexpr (std::is_same_v<T, Seconds>) {
        return Seconds{take<double>()};
    } else if constexpr (std::is_same_v<T, std::vector<std::byte>>) {
        const auto* bytes = static_cast<const std::byte*>(sqlite3_column_blob(columns_, column_));
        return {bytes, bytes + sqlite3_column_bytes(columns_, column_++)};
    } else if constexpr (std::is_enum_v<T>) {
        const std::string_view text = take_text();
        const std::optional<T> named = named_in<T>(text);
        if (!named) connection_.note_damage(text);
        return named.value_or(T{});
    } else if constexpr (std::is_same_v<T, bool>) {
        return take<int>() != 0;
    } else if constexpr (std::is_same_v<T, double>) {
        return sqlite3_column_double(columns_, column_++);
    } else if constexpr (std::is_same_v<T, int>) {
        return sqlite3_column_int(columns_, column_++);
    } else if constexpr (std::is_same_v<T, std::int64_t>) {
        return sqlite3_column_int64(columns_, column_++);
    } else if constexpr (std::is_same_v<T, std::string>) {
        return std::string{take_text()};
    } else {
        return T{take<double>()};  // a quantity of dsp/units.h
    }
}

}  // namespace holdwell
