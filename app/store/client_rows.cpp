#include "app/store/rows.h"

namespace holdwell {
namespace {

constexpr const char* kFindClient = "SELECT client_key FROM client WHERE id = ?";
constexpr const char* kKeepClient = R"sql(
    INSERT INTO client (id, code, standing, since_date, keeps_audio, onsets_labelled_date)
    VALUES (?, ?, ?, ?, ?, ?)
    ON CONFLICT (id) DO UPDATE SET
        code = excluded.code, standing = excluded.standing, since_date = excluded.since_date,
        keeps_audio = excluded.keeps_audio, onsets_labelled_date = excluded.onsets_labelled_date
)sql";
constexpr const char* kReadClient = R"sql(
    SELECT client_key, id, code, standing, since_date, keeps_audio, onsets_labelled_date
    FROM client WHERE id = ?
)sql";
constexpr const char* kClientIds = "SELECT id FROM client ORDER BY code, id";
constexpr const char* kOwnersOfPlan = R"sql(
    SELECT DISTINCT c.id FROM plan p JOIN client c USING (client_key) WHERE p.id = ? LIMIT 2
)sql";
constexpr const char* kOwnerOfPractice =
    "SELECT c.id FROM practice p JOIN client c USING (client_key) WHERE p.id = ?";
constexpr const char* kOwnerOfTrial =
    "SELECT c.id FROM trial t JOIN client c USING (client_key) WHERE t.id = ?";
constexpr const char* kRemoveClient = "DELETE FROM client WHERE client_key = ?";
constexpr const char* kRemoveHome =
    "DELETE FROM home WHERE client_id = (SELECT id FROM client WHERE client_key = ?)";

constexpr const char* kRemoveLabels = "DELETE FROM onset_label WHERE client_key = ?";
constexpr const char* kKeepLabel = R"sql(
    INSERT INTO onset_label (client_key, place, label, rise_s, rise_cycles, air_lead_s,
                             air_level_db, overshoot_db, irregular, snr_db)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* kReadLabels = R"sql(
    SELECT label, rise_s, rise_cycles, air_lead_s, air_level_db, overshoot_db, irregular, snr_db
    FROM onset_label WHERE client_key = ? ORDER BY place
)sql";

constexpr const char* kReadHome = "SELECT client_id FROM home";
constexpr const char* kKeepHome = "INSERT OR REPLACE INTO home (only_one, client_id) VALUES (1, ?)";

// The one owner that the query finds.
std::optional<Id> read_owner(Connection& connection, const char* sql, const Id& record)
{
    Query query{connection, sql};
    if (!query.with(record).next()) return std::nullopt;
    const Id owner = query.take<Id>();
    return query.next() ? std::nullopt : std::optional{owner};
}

void keep_labels(Connection& connection, ClientKey client,
                 const std::optional<OnsetBaselineRecord>& baseline)
{
    Query{connection, kRemoveLabels}.with(client.value).run();
    if (!baseline) return;
    int place = 0;
    for (const LabelledOnset& onset : baseline->onsets) {
        const OnsetFeatures& f = onset.features;
        Query{connection, kKeepLabel}
            .with(client.value, ++place, onset.label, f.rise, f.rise_cycles, f.air_lead,
                  f.air_level, f.overshoot, f.irregular, f.snr)
            .run();
    }
}

std::vector<LabelledOnset> read_labels(Connection& connection, ClientKey client)
{
    std::vector<LabelledOnset> onsets;
    Query query{connection, kReadLabels};
    query.with(client.value);
    while (query.next()) {
        LabelledOnset& onset = onsets.emplace_back();
        onset.label = query.take<OnsetClass>();
        OnsetFeatures& f = onset.features;
        f.rise = query.take<Seconds>();
        f.rise_cycles = query.take<std::optional<double>>();
        f.air_lead = query.take<Seconds>();
        f.air_level = query.take<std::optional<Decibels>>();
        f.overshoot = query.take<Decibels>();
        f.irregular = query.take<bool>();
        f.snr = query.take<Decibels>();
    }
    return onsets;
}

}  // namespace

std::optional<ClientKey> key_of_client(Connection& connection, const Id& client)
{
    Query query{connection, kFindClient};
    if (!query.with(client).next()) return std::nullopt;
    return ClientKey{query.take<std::int64_t>()};
}

void keep_client(Connection& connection, const Client& client)
{
    std::optional<Date> labelled;
    if (client.onset_baseline) labelled = client.onset_baseline->labelled;
    Query{connection, kKeepClient}
        .with(client.id, client.code, client.standing, client.since, client.keeps_audio, labelled)
        .run();
    keep_labels(connection, *key_of_client(connection, client.id), client.onset_baseline);
}

std::optional<Client> read_client(Connection& connection, const Id& client)
{
    Query query{connection, kReadClient};
    if (!query.with(client).next()) return std::nullopt;
    const ClientKey key{query.take<std::int64_t>()};
    Client read;
    read.id = query.take<Id>();
    read.code = query.take<std::string>();
    read.standing = query.take<Standing>();
    read.since = query.take<Date>();
    read.keeps_audio = query.take<bool>();
    if (const auto labelled = query.take<std::optional<Date>>())
        read.onset_baseline = OnsetBaselineRecord{*labelled, read_labels(connection, key)};
    return read;
}

std::vector<Id> read_client_ids(Connection& connection)
{
    std::vector<Id> ids;
    Query query{connection, kClientIds};
    while (query.next()) ids.push_back(query.take<Id>());
    return ids;
}

std::optional<Id> read_owner_of_plan(Connection& connection, const Id& plan)
{
    return read_owner(connection, kOwnersOfPlan, plan);
}

std::optional<Id> read_owner_of_practice(Connection& connection, const Id& practice)
{
    return read_owner(connection, kOwnerOfPractice, practice);
}

std::optional<Id> read_owner_of_trial(Connection& connection, const Id& trial)
{
    return read_owner(connection, kOwnerOfTrial, trial);
}

void remove_client_rows(Connection& connection, ClientKey client)
{
    Query{connection, kRemoveHome}.with(client.value).run();
    Query{connection, kRemoveClient}.with(client.value).run();  // the rest goes with her
}

std::optional<Id> read_home(Connection& connection)
{
    Query query{connection, kReadHome};
    if (!query.next()) return std::nullopt;
    return query.take<Id>();
}

void keep_home(Connection& connection, const Id& client)
{
    Query{connection, kKeepHome}.with(client).run();
}

}  // namespace holdwell
