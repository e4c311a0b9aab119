#include "app/store/rows.h"

namespace holdwell {
namespace {

constexpr const char* kKeepClip = R"sql(
    INSERT INTO clip (trial_id, client_key, made_date, flac) VALUES (?, ?, ?, ?)
    ON CONFLICT (trial_id) DO UPDATE SET client_key = excluded.client_key,
        made_date = excluded.made_date, flac = excluded.flac
)sql";
constexpr const char* kAddClip = R"sql(
    INSERT INTO clip (trial_id, client_key, made_date, flac) VALUES (?, ?, ?, ?)
    ON CONFLICT (trial_id) DO NOTHING
)sql";
constexpr const char* kReadClip = "SELECT trial_id, flac FROM clip WHERE trial_id = ?";
constexpr const char* kClipsHeld =
    "SELECT count(*), coalesce(sum(length(flac)), 0) FROM clip WHERE client_key = ?";
constexpr const char* kRemoveClips = "DELETE FROM clip WHERE client_key = ?";
constexpr const char* kRemoveClipsBefore =
    "DELETE FROM clip WHERE client_key = ? AND made_date < ?";

}  // namespace

void keep_clip(Connection& connection, ClientKey client, const ClipAdded& added)
{
    const auto& [clip, made] = added;
    Query{connection, kKeepClip}.with(clip.trial, client.value, made, clip.flac).run();
}

void add_clip(Connection& connection, ClientKey client, const ClipAdded& added)
{
    const auto& [clip, made] = added;
    Query{connection, kAddClip}.with(clip.trial, client.value, made, clip.flac).run();
}

std::optional<Clip> read_clip(Connection& connection, const Id& trial)
{
    Query query{connection, kReadClip};
    if (!query.with(trial).next()) return std::nullopt;
    Clip clip;
    clip.trial = query.take<Id>();
    clip.flac = query.take<std::vector<std::byte>>();
    return clip;
}

ClipsHeld clips_held(Connection& connection, ClientKey client)
{
    Query query{connection, kClipsHeld};
    query.with(client.value).next();
    ClipsHeld held;
    held.count = query.take<int>();
    held.bytes = query.take<std::int64_t>();
    return held;
}

void remove_clip_rows(Connection& connection, ClientKey client)
{
    Query{connection, kRemoveClips}.with(client.value).run();
}

void remove_clip_rows_before(Connection& connection, ClientKey client, Date day)
{
    Query{connection, kRemoveClipsBefore}.with(client.value, day).run();
}

}  // namespace holdwell
