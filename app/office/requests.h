#pragma once
// What the screens and the command line may ask of the records, and what comes back. Plain values:
// whoever asks knows no database, file or clock.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/practice/goal_builder.h"
#include "app/practice/plan.h"
#include "app/practice/records.h"

namespace holdwell {

// Dates identify: an export may count days from the client's first practice (day 1) instead.
enum class DateForm { dates, day_numbers };
enum class Paper { a4, letter };
// What an export of practices holds besides the measures.
enum class ClipsInExport { left_out, included };

// Whether records, and files written without a path, stay, or go when the program ends.
enum class Lasting { kept, until_closed };

// Tells requests apart, so that a refusal reaches who asked; 0: nobody wants to know.
struct RequestNumber {
    int value{0};
    auto operator<=>(const RequestNumber&) const = default;
};

// ---- requests -----------------------------------------------------------------------------------

// The client who practises on this computer.
struct LoadHome {};
// From now on the client who practises on this computer is this one; answered as LoadHome is.
struct SetHome {
    Id client{};
};
// The roster.
struct ListClients {};
struct OpenClient {
    Id client{};
};
struct AddClient {
    std::string code{};
};
// Code, standing, consent, onset labels.
struct ChangeClient {
    Client client{};
};
// Her practices, trials, plans and clips go with her.
struct DeleteClient {
    Id client{};
};
struct DeleteClips {
    Id client{};
};
// Kept as the next revision.
struct SavePlan {
    Id client{};
    Plan plan{};
};
// A goal that can be measured, from today on; answered as OpenClient is.
struct SetGoal {
    Id client{};
    MeasurableGoal goal{};
};
// From today on it is not aimed at; it stays in her history. Answered as OpenClient is.
struct WithdrawGoal {
    Id client{};
    Id goal{};
};
// Plans to begin from.
struct ListTemplates {};
// Ids and the moment are filled in where they are empty.
struct BeginPractice {
    Practice practice{};
};
struct KeepTrial {
    Id practice{};
    Trial trial{};
    std::optional<Clip> clip{};
};
// Completion, rating, remark, sound check; its trials are ignored.
struct ClosePractice {
    Practice practice{};
};
// One that was noted on paper: all of it or nothing. Ids are filled in where they are empty; one
// with an id that is there is replaced with all its trials. Answered by PracticeClosed.
struct KeepByHand {
    Practice practice{};
};
// Plan and practice files in the usual folders.
struct FindFiles {};
struct PreviewImport {
    std::filesystem::path path{};
    std::string passphrase{};  // empty: not sealed
    std::optional<Id> into{};  // whose it is; absent: found by its ids, and for a plan the client
                               // who practises here
    std::optional<Date> day_one{};  // only for a file with numbered days: the day of its day 1
};
// Of what was last previewed.
struct ConfirmImport {};
// Paths here: empty for a name of its own in the documents folder. A file that is there already is
// never overwritten: the name gets a number.
struct ExportPlan {
    Id client{};
    std::filesystem::path path{};
    std::string passphrase{};  // empty: not sealed
};
struct ExportPractices {
    Id client{};
    std::filesystem::path path{};
    std::string passphrase{};  // empty: not sealed
    DateForm dates{DateForm::dates};
    ClipsInExport clips{ClipsInExport::left_out};
};
struct WriteReport {
    Id client{};
    std::filesystem::path path{};
    std::optional<Date> from{};  // absent: from the first practice
    std::optional<Date> to{};    // absent: to today
    DateForm dates{DateForm::dates};
    std::string name{};  // typed by the therapist; empty: the code alone
    Paper paper{Paper::a4};
    std::optional<MeasurableGoal> measurable{};  // its sentence, and whether the record meets it
};
// CSV of all trials.
struct WriteTable {
    Id client{};
    std::filesystem::path path{};
    DateForm dates{DateForm::dates};
};

using Request =
    std::variant<LoadHome, SetHome, ListClients, OpenClient, AddClient, ChangeClient, DeleteClient,
                 DeleteClips, SavePlan, SetGoal, WithdrawGoal, ListTemplates, BeginPractice,
                 KeepTrial, ClosePractice, KeepByHand, FindFiles, PreviewImport, ConfirmImport,
                 ExportPlan, ExportPractices, WriteReport, WriteTable>;

struct Asked {
    RequestNumber number{};
    Request request{};
};

// ---- answers ------------------------------------------------------------------------------------

// One sentence: what could not be done, why, and what to do. Nothing was changed.
struct Refused {
    std::string sentence{};
    bool wants_passphrase{false};
    RequestNumber of{};  // as it was asked with
};
struct HomeLoaded {
    ClientFile file{};                     // made on the first start
    std::optional<Practice> unfinished{};  // to be gone on with: can_be_gone_on_with()
    Date today{};
    std::string notice{};  // "kept in memory for now: ..."; empty when all is well
    ClipsHeld clips{};
    std::filesystem::path folder{};       // where the records are
    std::int64_t bytes{0};                // of the records on disk, clips and all; 0: in memory
    Lasting lasting{Lasting::kept};
    std::vector<HandedOut> handed_out{};  // in the order it went
};
struct ClientsListed {
    std::vector<RosterLine> lines{};  // by code
    Date today{};
};
struct ClientOpened {
    ClientFile file{};
    ClipsHeld clips{};
    Date today{};
    Lasting lasting{Lasting::kept};
    std::vector<HandedOut> handed_out{};  // in the order it went
};
struct ClientAdded {
    Client client{};
};
struct ClientChanged {
    Client client{};
};
struct ClientDeleted {
    Id client{};
};
struct PlanSaved {
    Id client{};
    Plan plan{};
};
struct TemplatesListed {
    std::vector<Plan> plans{};
};
struct PracticeBegun {
    Practice practice;
    std::string notice{};  // empty: it is on disk; else in memory for now, and why
};
struct TrialKept {
    Id trial{};
    std::string notice{};  // empty: it is on disk; else in memory for now, and why
};
struct PracticeClosed {
    Practice practice{};
    std::string notice{};
};
struct FoundFile {
    std::filesystem::path path{};
    std::string says{};
};  // "plan, 3 March"
struct FilesFound {
    std::vector<FoundFile> files{};
};  // newest first
enum class Carries { plan, practices };
struct ImportPreviewed {
    Carries carries{Carries::practices};
    std::string client_code{};
    bool client_is_new{false};
    int new_practices{0};
    int new_trials{0};
    int already_here{0};  // practices, left as they are
    std::vector<std::string>
        conflicts{};                   // what differs from what is here: both are kept, said how
    std::optional<Plan> plan{};        // that would come into force
    std::vector<std::string> notes{};  // what is good to know, one sentence each
    bool has_numbered_days{false};     // PreviewImport::day_one may say where its day 1 stands
};
struct Imported {
    Id client{};
    int practices{0};
    int plans{0};
};
struct Written {
    std::filesystem::path path{};
    std::string holds{};  // what is in it, in one sentence
};

using Answer =
    std::variant<Refused, HomeLoaded, ClientsListed, ClientOpened, ClientAdded, ClientChanged,
                 ClientDeleted, PlanSaved, TemplatesListed, PracticeBegun, TrialKept,
                 PracticeClosed, FilesFound, ImportPreviewed, Imported, Written>;

}  // namespace holdwell
