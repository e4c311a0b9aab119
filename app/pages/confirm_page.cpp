#include "app/pages/confirm_page.h"

#include <utility>

#include "app/pages/row_page.h"

namespace holdwell {
namespace {

// Every answer goes to every page: to one asked for before this, too.
bool answers(const Answer& answer, const Request& request)
{
    if (const auto* deletion = std::get_if<DeleteClient>(&request)) {
        const auto* deleted = std::get_if<ClientDeleted>(&answer);
        return deleted != nullptr && deleted->client == deletion->client;
    }
    if (const auto* deletion = std::get_if<DeleteClips>(&request)) {
        const auto* opened = std::get_if<ClientOpened>(&answer);
        return opened != nullptr && opened->file.client.id == deletion->client;
    }
    return !std::holds_alternative<Refused>(answer);
}

class ConfirmPage final : public RowPage {
public:
    explicit ConfirmPage(Confirmation confirmation) : asked_{std::move(confirmation)} {}

protected:
    void heard(const Answer& answer) override;
    Sheet lay_out() override;

private:
    void go_on();

    Confirmation asked_;
    std::string typed_;
    std::string fault_;
    bool is_waiting_{false};
};

void ConfirmPage::go_on()
{
    if (is_waiting_) return;
    if (typed_ != asked_.word) {
        fault_ = "Nothing was done: type “" + asked_.word + "” exactly as it stands.";
        return;
    }
    is_waiting_ = true;
    wish(Ask{asked_.request});
}

void ConfirmPage::heard(const Answer& answer)
{
    if (!is_waiting_) return;
    if (const auto* refused = std::get_if<Refused>(&answer)) {
        is_waiting_ = false;
        fault_ = refused->sentence;
    }
    if (!answers(answer, asked_.request)) return;
    is_waiting_ = false;
    wish(ClosePage{});
}

Sheet ConfirmPage::lay_out()
{
    Sheet sheet;
    sheet.title = asked_.title;
    sheet.lead = asked_.lead;
    sheet.say("What happens", asked_.what_happens);
    sheet.button({.label = "Keep everything as it is", .does = "go back"},
                 [this] { wish(ClosePage{}); });
    sheet.text({.label = "Type " + asked_.word,
                .text = typed_,
                .meaning = "So that nothing is lost by a slip of the hand.",
                .fault = fault_},
               [this](const std::string& text) {
                   typed_ = text;
                   fault_.clear();
               });
    sheet.button({.label = asked_.button}, [this] { go_on(); });
    return sheet;
}

}  // namespace

std::unique_ptr<Page> confirm_page(Confirmation confirmation)
{
    return make_page<ConfirmPage>(std::move(confirmation));
}

}  // namespace holdwell
