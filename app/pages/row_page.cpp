#include "app/pages/row_page.h"

#include <algorithm>
#include <cstdlib>

namespace holdwell {
namespace {

// Without its last letter: a letter of several bytes goes as one.
std::string without_last_letter(std::string text)
{
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U)
        text.pop_back();
    if (!text.empty()) text.pop_back();
    return text;
}

constexpr char kEscape = 27;

}  // namespace

PageView RowPage::view() const
{
    PageView view{.title = sheet_.title,
                  .lead = sheet_.lead,
                  .blocks = sheet_.blocks(),
                  .notice = sheet_.notice.empty() ? hint_ : sheet_.notice,
                  .keys = key_hints()};
    if (has_row(focused_)) view.focused = focused_;
    return view;
}

std::vector<PageKeyHint> RowPage::key_hints() const
{
    std::vector<PageKeyHint> hints;
    bool is_typing = false;
    if (has_row(focused_)) {
        const RowActions& row = sheet_.actions_at(focused_);
        hints.push_back({"Enter", row.proceed_does, '\n'});
        if (row.step) hints.push_back({"← →", "change", 0});
        is_typing = sheet_.takes_text(focused_);
    }
    if (sheet_.row_count() > 1) hints.push_back({"↑ ↓", "move", 0});
    for (const KeyAction& key : sheet_.keys()) {
        hints.push_back(key.hint);
        if (!is_typing) continue;
        hints.back().key = "Ctrl " + key.hint.key;
        hints.back().with = WithKey::control;
    }
    hints.push_back({"Esc", escape_does(), kEscape});
    return hints;
}

void RowPage::act(const PageEvent& event)
{
    hint_.clear();
    if (const auto* key = std::get_if<PressKey>(&event)) press(*key);
    if (const auto* text = std::get_if<TypeText>(&event)) type(text->text);
    if (const auto* picked = std::get_if<PickPageRow>(&event); picked && has_row(picked->row)) {
        focused_ = picked->row;
        const RowActions& row = sheet_.actions_at(focused_);
        if (row.proceed && !row.typed) proceed();
    }
    if (const auto* to = std::get_if<FocusRow>(&event); to && has_row(to->row)) focused_ = to->row;
    if (const auto* stepped = std::get_if<StepPageRow>(&event)) choose(*stepped);
    if (const auto* file = std::get_if<DropFile>(&event)) dropped(file->path);
    refresh();
}

void RowPage::hear(const Answer& answer)
{
    heard(answer);
    refresh();
}

void RowPage::recorded(const ModelVoice& model)
{
    model_recorded(model);
    refresh();
}

void RowPage::opened()
{
    shown();
    refresh();
}

void RowPage::focus_first()
{
    focused_ = 0;
    wanted_label_ = "";
}

std::string RowPage::focused_label() const
{
    return has_row(focused_) ? sheet_.label_at(focused_) : "";
}

void RowPage::refresh()
{
    const std::string label = wanted_label_.value_or(focused_label());
    wanted_label_.reset();
    sheet_ = lay_out();
    keep_focus_on(label);
}

// Rows come and go: the focus stays with its label, and of several equal ones with the nearest.
void RowPage::keep_focus_on(const std::string& label)
{
    std::optional<int> nearest;
    for (int row = 0; row < sheet_.row_count(); ++row) {
        if (sheet_.label_at(row) != label) continue;
        if (!nearest || std::abs(row - focused_) < std::abs(*nearest - focused_)) nearest = row;
    }
    focused_ = nearest.value_or(std::clamp(focused_, 0, std::max(0, sheet_.row_count() - 1)));
}

void RowPage::press(const PressKey& key)
{
    switch (key.key) {
    case PressKey::Key::proceed:
        return proceed();
    case PressKey::Key::back:
        return go_back();
    case PressKey::Key::up:
        return move(-1);
    case PressKey::Key::down:
        return move(+1);
    case PressKey::Key::left:
        return step(focused_, -1);
    case PressKey::Key::right:
        return step(focused_, +1);
    case PressKey::Key::erase:
        return erase();
    case PressKey::Key::letter:
        return press_letter(key);
    case PressKey::Key::space:
        if (has_row(focused_) && !sheet_.takes_text(focused_)) proceed();
        return;
    }
}

void RowPage::press_letter(const PressKey& pressed)
{
    const bool is_typing = has_row(focused_) && sheet_.takes_text(focused_);
    if (is_typing && pressed.with != WithKey::control) return;
    const char letter = pressed.letter;
    const bool is_digit = letter >= '0' && letter <= '9';
    if (is_digit && has_row(focused_)) {
        const auto choose = sheet_.actions_at(focused_).choose;
        if (choose) return choose(letter - '0');
    }
    const auto& keys = sheet_.keys();
    const auto found = std::ranges::find_if(
        keys, [letter](const KeyAction& key) { return key.hint.letter == letter; });
    if (found == keys.end()) return;
    const auto press = found->press;  // what it does may lay out anew
    press();
}

void RowPage::proceed()
{
    if (!has_row(focused_)) return;
    const auto action = sheet_.actions_at(focused_).proceed;
    if (action) return action();
    // Left empty by a key too many, a question would never be seen again.
    if (is_empty_scale(focused_) && has_row(focused_ + 1)) {
        hint_ = "Choose a number with ← →, or leave it out with ↓.";
        return;
    }
    move(+1);
}

bool RowPage::is_empty_scale(int row) const
{
    const auto* scale = std::get_if<ScaleBlock>(&sheet_.block_at(row));
    return scale != nullptr && !scale->value;
}

void RowPage::move(int by)
{
    if (has_row(focused_ + by)) focused_ += by;
}

void RowPage::step(int row, int by)
{
    if (!has_row(row)) return;
    const auto action = sheet_.actions_at(row).step;
    if (action) action(by);
}

void RowPage::choose(const StepPageRow& event)
{
    if (!has_row(event.row)) return;
    focused_ = event.row;
    const auto action = sheet_.actions_at(event.row).choose;
    if (event.to && action) return action(*event.to);
    step(event.row, event.by);
}

void RowPage::type(const std::string& text)
{
    if (!has_row(focused_) || !sheet_.takes_text(focused_)) return;
    const auto action = sheet_.actions_at(focused_).typed;
    if (action) action(std::get<RowBlock>(sheet_.block_at(focused_)).value + text);
}

void RowPage::erase()
{
    if (!has_row(focused_) || !sheet_.takes_text(focused_)) return;
    const auto action = sheet_.actions_at(focused_).typed;
    if (action) action(without_last_letter(std::get<RowBlock>(sheet_.block_at(focused_)).value));
}

}  // namespace holdwell
