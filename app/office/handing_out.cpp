#include "app/office/handing_out.h"

#include <utility>

namespace holdwell {
namespace {

struct Handing {
    Id client;
    HandedOut file;
};

HandedOut::Days days_of(DateForm dates)
{
    return dates == DateForm::dates ? HandedOut::Days::dates : HandedOut::Days::numbers;
}

// What a request would hand out; nothing for all others.
struct WouldHandOut {
    template <typename Other>
    std::optional<Handing> operator()(const Other&) const
    {
        return std::nullopt;
    }
    std::optional<Handing> operator()(const ExportPlan& request) const
    {
        HandedOut file;
        file.what = HandedOut::What::plan;
        file.sealed = !request.passphrase.empty();
        return Handing{request.client, file};
    }
    std::optional<Handing> operator()(const ExportPractices& request) const
    {
        HandedOut file;
        file.what = HandedOut::What::practices;
        file.days = days_of(request.dates);
        file.audio = request.clips == ClipsInExport::included;
        file.sealed = !request.passphrase.empty();
        return Handing{request.client, file};
    }
    std::optional<Handing> operator()(const WriteReport& request) const
    {
        HandedOut file;
        file.what = HandedOut::What::report;
        file.days = days_of(request.dates);
        file.name = !request.name.empty();
        return Handing{request.client, file};
    }
    std::optional<Handing> operator()(const WriteTable& request) const
    {
        HandedOut file;
        file.what = HandedOut::What::table;
        file.days = days_of(request.dates);
        return Handing{request.client, file};
    }
};

}  // namespace

Answer noted(Desk& desk, const Request& request, Answer answer)
{
    auto* written = std::get_if<Written>(&answer);
    if (written == nullptr) return answer;
    std::optional<Handing> handing = std::visit(WouldHandOut{}, request);
    if (!handing) return answer;
    handing->file.day = desk.settings.now().date;
    const Outcome kept = desk.keeper.change(
        [&](Store& store) { return store.keep(handing->client, handing->file); });
    if (!kept) written->holds += " That it was written could not be noted in the records.";
    return answer;
}

}  // namespace holdwell
