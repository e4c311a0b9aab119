#include "app/office/office.h"

#include <utility>

#include "app/office/client_desk.h"
#include "app/office/exchange.h"
#include "app/office/handing_out.h"
#include "app/office/keeper.h"
#include "app/office/practice_desk.h"
#include "app/office/report_request.h"

namespace holdwell {

struct Office::State {
    explicit State(OfficeSettings given)
        : settings{std::move(given)}, keeper{settings.data_folder}, desk{settings, keeper}
    {
    }

    OfficeSettings settings;
    Keeper keeper;
    Desk desk;
};

Office::Office(OfficeSettings settings) : state_{std::make_unique<State>(std::move(settings))} {}

Office::~Office() { state_->keeper.try_again(); }

Answer Office::answer(const Request& request)
{
    state_->keeper.try_again();
    return noted(
        state_->desk, request,
        std::visit([this](const auto& asked) { return holdwell::answer(state_->desk, asked); },
                   request));
}

}  // namespace holdwell
