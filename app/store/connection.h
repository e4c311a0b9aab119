#pragma once
// One connection to a SQLite file, and queries on it that bind and read whole quantities.
//
// Columns are read by SQLite's own functions: SQLiteCpp shares the statement with each column that
// it hands out, which made the reading of 39 420 trials take 48 instead of 37 ms of the processor.
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
    // Chooses an overload of read().
    template <typename T>
    struct Kind {
    };

    template <typename T>
    void put(const T& value);  // an enumerator, or a quantity of dsp/units.h
    template <typename T>
    void put(const std::optional<T>& value);
    void put(bool value) { put(value ? 1 : 0); }
    void put(int value) { statement_.bind(parameter_++, value); }
    void put(std::int64_t value) { statement_.bind(parameter_++, value); }
    void put(double value) { statement_.bind(parameter_++, value); }
    void put(const std::string& value) { statement_.bind(parameter_++, value); }
    void put(std::string_view value) { put(std::string{value}); }
    void put(const Id& value) { put(value.text); }
    void put(const Date& value);
    void put(const ClockTime& value) { put(static_cast<int>(value.since_midnight.count())); }
    void put(const Note& value) { put(value.midi); }
    void put(const Seconds& value) { put(value.count()); }
    void put(const SampleRate& value) { put(value.hz); }
    void put(const std::vector<std::byte>& value);

    template <typename T>
    T read(Kind<T>);  // likewise
    template <typename T>
    std::optional<T> read(Kind<std::optional<T>>);
    bool read(Kind<bool>) { return take<int>() != 0; }
    int read(Kind<int>) { return sqlite3_column_int(columns_, column_++); }
    std::int64_t read(Kind<std::int64_t>) { return sqlite3_column_int64(columns_, column_++); }
    double read(Kind<double>) { return sqlite3_column_double(columns_, column_++); }
    std::string read(Kind<std::string>) { return std::string{take_text()}; }
    Id read(Kind<Id>) { return {take<std::string>()}; }
    Date read(Kind<Date>);
    ClockTime read(Kind<ClockTime>) { return {std::chrono::minutes{take<int>()}}; }
    Note read(Kind<Note>) { return {take<int>()}; }
    Seconds read(Kind<Seconds>) { return Seconds{take<double>()}; }
    std::vector<std::byte> read(Kind<std::vector<std::byte>>);
    std::string_view take_text();

    Connection& connection_;
    SQLite::Statement& statement_;
    sqlite3_stmt* columns_;
    int parameter_{1};
    int column_{0};
};

template <typename T>
void Query::put(const T& value)
{
    if constexpr (std::is_enum_v<T>)
        put(stored_name(value));
    else
        put(value.value);  // a quantity of dsp/units.h
}

template <typename T>
void Query::put(const std::optional<T>& value)
{
    if (value)
        put(*value);
    else
        with_nulls(1);
}

template <typename T>
T Query::take()
{
    return read(Kind<T>{});
}

template <typename T>
T Query::read(Kind<T>)
{
    if constexpr (std::is_enum_v<T>) {
        const std::string_view text = take_text();
        const std::optional<T> named = named_in<T>(text);
        if (!named) connection_.note_damage(text);
        return named.value_or(T{});
    } else {
        return T{take<double>()};  // a quantity of dsp/units.h
    }
}

template <typename T>
std::optional<T> Query::read(Kind<std::optional<T>>)
{
    if (sqlite3_column_type(columns_, column_) != SQLITE_NULL) return take<T>();
    ++column_;
    return std::nullopt;
}

}  // namespace holdwell
