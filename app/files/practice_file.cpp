#include "app/files/practice_file.h"

#include <fmt/format.h>

#include <iterator>
#include <set>

#include "app/files/field_visitors.h"
#include "app/files/json_items.h"
#include "app/practice/client_code.h"
#include "app/practice/goal_builder.h"

namespace holdwell {

namespace {

constexpr const char* kFormat = "holdwell practices";

constexpr Names<DaysInFile, 2> kDaysNames{
    {{DaysInFile::dates, "dates"}, {DaysInFile::numbers, "numbers"}}};

std::size_t trials_in(const ClientFile& file)
{
    std::size_t count = 0;
    for (const Practice& practice : file.practices) count += practice.trials.size();
    return count;
}

std::string counted(std::size_t n, std::string_view one, std::string_view many)
{
    return fmt::format("{} {}", n, n == 1 ? one : many);
}

// ---- what a file must be, beyond its fields --------------------------------------------------

// Every id stands for one thing.
class IdsSeen {
public:
    explicit IdsSeen(FaultLog& log) : log_{log} {}
    void add(const Id& id, const std::string& place)
    {
        if (!id.text.empty() && !seen_.insert(id.text).second)
            log_.add(place, "Something else in this file has the same id.");
    }
    bool has(const Id& id) const { return seen_.contains(id.text); }

private:
    FaultLog& log_;
    std::set<std::string> seen_;
};

void check_practices(const ClientFile& file, IdsSeen& trials, FaultLog& log)
{
    IdsSeen practices{log};
    for (std::size_t p = 0; p < file.practices.size(); ++p) {
        const Practice& practice = file.practices[p];
        const std::string place = item_of("practices", p);
        practices.add(practice.id, place + ".id");
        if (!practice.begun.date.ok() && !log.touches(place + ".day"))
            log.add(place + ".day", "A practice needs its day.");
        for (std::size_t t = 0; t < practice.trials.size(); ++t)
            trials.add(practice.trials[t].id, item_of(place + ".trials", t) + ".id");
    }
}

void check_plans(const ClientFile& file, FaultLog& log)
{
    std::set<std::pair<Id, int>> seen;
    for (std::size_t i = 0; i < file.plans.size(); ++i) {
        if (!seen.insert({file.plans[i].id, file.plans[i].revision}).second)
            log.add(item_of("plans", i) + ".revision",
                    "This revision of the plan stands in the file twice.");
    }
}

void check_goals(const ClientFile& file, FaultLog& log)
{
    IdsSeen goals{log};
    for (std::size_t i = 0; i < file.goals.size(); ++i) {
        const std::string place = item_of("goals", i);
        goals.add(file.goals[i].id, place + ".id");
        if (!file.goals[i].set_on.ok()) log.add(place + ".set_on", "A goal needs its day.");
        for (const Fault& fault : faults_of(file.goals[i].goal))
            log.add(place + "." + fault.place, fault.sentence);
    }
}

void check_clips(const PracticeFile& file, const IdsSeen& trials, FaultLog& log)
{
    IdsSeen clips{log};
    for (std::size_t i = 0; i < file.clips.size(); ++i) {
        const std::string place = item_of("clips", i) + ".trial";
        clips.add(file.clips[i].trial, place);
        if (!trials.has(file.clips[i].trial)) log.add(place, "No trial of this file has this id.");
    }
}

void check_code(const std::string& code, FaultLog& log)
{
    // Without one she is given one when the file is taken in.
    const std::string fault = code.empty() ? "" : fault_of_code(code);
    if (!fault.empty()) log.add("client.code", fault);
}

void check(const PracticeFile& file, FaultLog& log)
{
    check_code(file.records.client.code, log);
    IdsSeen trials{log};
    check_practices(file.records, trials, log);
    check_plans(file.records, log);
    check_goals(file.records, log);
    check_clips(file, trials, log);
}

// ---- the head of the file --------------------------------------------------------------------

// Whether the rest can be read at all.
bool is_ours(ObjectReader& in, FaultLog& log)
{
    if (in.text("format", {}) != kFormat) {
        log.add("format",
                fmt::format("This is no practice file: \"format\" is not \"{}\".", kFormat));
        return false;
    }
    const int version = in.integer("version", 0);
    if (version == kPracticeFileVersion) return true;
    log.add("version", version > kPracticeFileVersion
                           ? "This file was written by a later version of Holdwell; open it with "
                             "that one."
                           : "The version of this file is not known.");
    return false;
}

// ---- practices and clips, one after the other ------------------------------------------------

// What is read while the text goes by. Where the head of the file does not come first, nothing is
// taken, and all is read from the JSON afterwards.
class PracticesReader final : public ItemReader {
public:
    void field(const std::string& key, const Json& value) override
    {
        if (key == "format") format_ = value == kFormat ? Head::ours : Head::not_ours;
        if (key == "version")
            version_ = value == kPracticeFileVersion ? Head::ours : Head::not_ours;
        if (key != "days") return;
        for (const auto& name : kDaysNames)
            if (value == name.text) around_.days = name.value;
        days_ = Head::ours;
    }

    Taken take(const Item& item, const Json& value) override
    {
        const bool is_foreign = format_ == Head::not_ours || version_ == Head::not_ours;
        if (is_foreign) return Taken::yes;  // a sentence on its head is all that is said
        const bool is_known =
            format_ == Head::ours && version_ == Head::ours && days_ == Head::ours;
        if (!is_known) return Taken::no;
        const std::string place = item_of(item.list, item.index);
        if (item.list == "practices") return read(value, place, file_.records.practices);
        if (item.list == "clips") return read(value, place, file_.clips);
        return Taken::no;
    }

    // What was taken goes before what is there, and its faults after those that are there.
    void put_into(PracticeFile& file, FaultLog& log)
    {
        auto& practices = file.records.practices;
        practices.insert(practices.begin(), std::move_iterator{file_.records.practices.begin()},
                         std::move_iterator{file_.records.practices.end()});
        file.clips.insert(file.clips.begin(), std::move_iterator{file_.clips.begin()},
                          std::move_iterator{file_.clips.end()});
        for (Fault& fault : log_.take()) log.add(std::move(fault.place), std::move(fault.sentence));
    }

private:
    enum class Head { unknown, ours, not_ours };

    template <typename Record>
    Taken read(const Json& value, const std::string& place, std::vector<Record>& to)
    {
        if (log_.count() >= kMostFaults) return Taken::yes;
        FieldReader fields{value, place, around_};
        Record record;
        describe(fields, record);
        fields.finish();
        to.push_back(std::move(record));
        return Taken::yes;
    }

    Head format_{Head::unknown};
    Head version_{Head::unknown};
    Head days_{Head::unknown};
    FaultLog log_;
    FieldReader::Around around_{.days = DaysInFile::dates, .log = log_};
    PracticeFile file_;
};

PracticeFile read_records(const Json& json, PracticesReader& read_before,
                          FieldReader::Around& around)
{
    PracticeFile file;
    FieldReader fields{json, "", around};
    // Read already, or for people alone.
    for (const char* head : {"format", "version", "holds", "days"}) fields.pass_over(head);
    describe(fields, file.records);
    fields.list("clips", file.clips);
    fields.finish();
    read_before.put_into(file, around.log);
    for (Practice& practice : file.records.practices) practice.client = file.records.client.id;
    return file;
}

void move_days(Date& day, std::chrono::days by)
{
    if (day.ok()) day = day_after(day, by);
}

}  // namespace

std::string contents_of(const PracticeFile& file, const DayForm& days)
{
    const ClientFile& records = file.records;
    std::string text = fmt::format(
        "{}, {} and {} of \"{}\"; {}", counted(records.practices.size(), "practice", "practices"),
        counted(trials_in(records), "trial", "trials"),
        counted(records.plans.size(), "revision of the plan", "revisions of the plan"),
        records.client.code,
        days.day_one ? "days are counted from the first practice, without dates"
                     : "with dates and times");
    text += file.clips.empty()
                ? "; no recordings of the voice."
                : fmt::format("; {} a person.",
                              counted(file.clips.size(), "recording of the voice, which identifies",
                                      "recordings of the voice, which identify"));
    return text;
}

std::string as_json(const PracticeFile& file, const DayForm& days)
{
    PracticeFile copy = file;  // the description reads and writes alike
    FieldWriter fields{days};
    describe(fields, copy.records);
    fields.list("clips", copy.clips);
    Json json{
        {"format", kFormat},
        {"version", kPracticeFileVersion},
        {"holds", contents_of(file, days)},
        {"days", name_in(kDaysNames, days.day_one ? DaysInFile::numbers : DaysInFile::dates)}};
    json.update(fields.take());
    return text_of(json);
}

PracticeFileReading read_practices(std::string_view text)
{
    PracticesReader items;
    const JsonText parsed = parse_json(text, items);
    if (!parsed.json) return {.file = {}, .days = {}, .faults = {*parsed.fault}};
    FaultLog log;
    ObjectReader head{*parsed.json, "", log};
    if (!log.empty() || !is_ours(head, log)) return {.file = {}, .days = {}, .faults = log.take()};
    const DaysInFile days = head.choice("days", kDaysNames, DaysInFile::dates);
    FieldReader::Around around{.days = days, .log = log};
    PracticeFile file = read_records(*parsed.json, items, around);
    if (log.empty()) check(file, log);
    if (log.empty()) return {.file = std::move(file), .days = days, .faults = {}};
    std::vector<Fault> faults = log.take();
    if (faults.size() > kMostFaults) faults.resize(kMostFaults);
    return {.file = {}, .days = days, .faults = std::move(faults)};
}

PracticeFile with_day_one(PracticeFile file, Date day_one)
{
    const std::chrono::days by = days_between(kNoDayOne, day_one);
    Client& client = file.records.client;
    move_days(client.since, by);
    if (client.onset_baseline) move_days(client.onset_baseline->labelled, by);
    for (Plan& plan : file.records.plans) {
        move_days(plan.written, by);
        if (plan.goal) move_days(plan.goal->set_on, by);
    }
    for (Practice& practice : file.records.practices) move_days(practice.begun.date, by);
    for (ClientGoal& goal : file.records.goals) {
        move_days(goal.set_on, by);
        if (goal.withdrawn_on) move_days(*goal.withdrawn_on, by);
        if (goal.goal.by) move_days(*goal.goal.by, by);
    }
    return file;
}

}  // namespace holdwell
