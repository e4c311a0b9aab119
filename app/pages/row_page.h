#pragma once
// A page of rows: moves the focus, types into rows and presses them, so that a page says only what
// it shows and what each row does.
//
// Up and down move; left and right change a value; Enter presses a button or a link, enters a text
// that can be entered, and else goes on to the next row; Escape closes the page. Letters are keys
// of the page; where the focus is in a text, with Ctrl.

#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "app/pages/page.h"
#include "app/pages/sheet.h"

namespace holdwell {

class RowPage : public Page {
public:
    PageView view() const final;
    void act(const PageEvent& event) final;
    void hear(const Answer& answer) final;
    void recorded(const ModelVoice& model) final;
    void opened() final;

    void refresh();  // lays out anew; after construction, too: make_page() does it

protected:
    virtual Sheet lay_out() = 0;
    virtual void heard(const Answer&) {}
    virtual void model_recorded(const ModelVoice&) {}
    virtual void shown() {}
    virtual void go_back() { wish(ClosePage{}); }
    virtual void dropped(const std::filesystem::path&) {}
    virtual std::string escape_does() const { return "back"; }

    // Empty when there are no rows.
    std::string focused_label() const;
    // The nearest row of that label, from the next laying out on.
    void focus_on(std::string label) { wanted_label_ = std::move(label); }
    void focus_first();
    // To the next row, where there is one.
    void move_on() { move(+1); }

private:
    void press(const PressKey& key);
    void press_letter(const PressKey& pressed);
    void proceed();
    void move(int by);
    void step(int row, int by);
    void choose(const StepPageRow& event);
    bool is_empty_scale(int row) const;
    void type(const std::string& text);
    void erase();
    void keep_focus_on(const std::string& label);
    bool has_row(int row) const { return row >= 0 && row < sheet_.row_count(); }
    std::vector<PageKeyHint> key_hints() const;

    Sheet sheet_;
    int focused_{0};
    std::optional<std::string> wanted_label_;
    std::string hint_;  // what the last key could not do, and what does it
};

template <typename P, typename... Made>
std::unique_ptr<Page> make_page(Made&&... from)
{
    auto page = std::make_unique<P>(std::forward<Made>(from)...);
    page->refresh();
    return page;
}

}  // namespace holdwell
