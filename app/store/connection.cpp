#include "app/store/connection.h"

#include <fmt/format.h>

#include <charconv>

namespace holdwell {
namespace {

// Digits only, all of them.
template <typename T>
std::optional<T> number_in(std::string_view digits)
{
    T value{};
    const char* end = digits.data() + digits.size();
    const auto [stopped, error] = std::from_chars(digits.data(), end, value);
    if (error != std::errc{} || stopped != end || digits.front() == '-') return std::nullopt;
    return value;
}

// "2027-03-09"
std::string stored_day(Date date)
{
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

// Of that form only.
std::optional<Date> date_of(std::string_view text)
{
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    const auto year = number_in<int>(text.substr(0, 4));
    const auto month = number_in<unsigned>(text.substr(5, 2));
    const auto day = number_in<unsigned>(text.substr(8, 2));
    if (!year || !month || !day) return std::nullopt;
    return Date{std::chrono::year{*year}, std::chrono::month{*month}, std::chrono::day{*day}};
}

// Each text is prepared once on a connection, so it tells its statement.
sqlite3_stmt* statement_with(sqlite3* database, std::string_view sql)
{
    sqlite3_stmt* statement = nullptr;
    do {
        statement = sqlite3_next_stmt(database, statement);
    } while (statement != nullptr && sqlite3_sql(statement) != sql);
    return statement;
}

}  // namespace

Connection::Connection(const std::string& file, int flags) : database_{file, flags} {}

PreparedStatement& Connection::prepared(const char* sql)
{
    PreparedStatement& prepared = statements_[sql];
    if (prepared.statement) return prepared;
    prepared.statement = std::make_unique<SQLite::Statement>(database_, sql);
    prepared.columns = statement_with(database_.getHandle(), sql);
    return prepared;
}

int Connection::version() { return database_.execAndGet("PRAGMA user_version").getInt(); }

void Connection::note_damage(std::string_view what)
{
    if (damage_.empty()) damage_ = fmt::format("\"{}\" is not what should stand there", what);
}

Query& Query::with_nulls(int count)
{
    for (int i = 0; i < count; ++i) statement_.bind(parameter_++);
    return *this;
}

bool Query::next()
{
    column_ = 0;
    return statement_.executeStep();
}

void Query::run()
{
    statement_.exec();
    statement_.reset();
    parameter_ = 1;
}

void Query::put(const Date& value) { put(stored_day(value)); }

void Query::put(const std::vector<std::byte>& value)
{
    // An empty vector may have no address, which would be bound as NULL.
    const void* bytes = value.empty() ? "" : static_cast<const void*>(value.data());
    statement_.bind(parameter_++, bytes, static_cast<int>(value.size()));
}

Date Query::read(Kind<Date>)
{
    const std::string_view text = take_text();
    const std::optional<Date> date = date_of(text);
    if (!date) connection_.note_damage(text);
    return date.value_or(Date{});
}

std::vector<std::byte> Query::read(Kind<std::vector<std::byte>>)
{
    const auto* bytes = static_cast<const std::byte*>(sqlite3_column_blob(columns_, column_));
    return {bytes, bytes + sqlite3_column_bytes(columns_, column_++)};
}

std::string_view Query::take_text()
{
    const void* text = sqlite3_column_text(columns_, column_);
    const int length = sqlite3_column_bytes(columns_, column_++);
    if (text == nullptr) return {};  // NULL where a text should be
    return {static_cast<const char*>(text), static_cast<std::size_t>(length)};
}

}  // namespace holdwell
