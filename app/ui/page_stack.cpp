#include "app/ui/page_stack.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace holdwell {

namespace {

bool is_row(const PageBlock& block)
{
    return std::holds_alternative<RowBlock>(block) || std::holds_alternative<ScaleBlock>(block);
}

// The n-th row of a page; a scale counts as one.
const PageBlock* row_of(const PageView& view, int wanted)
{
    int row = 0;
    for (const PageBlock& block : view.blocks) {
        if (is_row(block) && row++ == wanted) return &block;
    }
    return nullptr;
}

}  // namespace

int rows_in(const PageView& view)
{
    return static_cast<int>(std::ranges::count_if(view.blocks, is_row));
}

void PageStack::open(std::unique_ptr<Page> page)
{
    push(std::move(page));
    fulfil_wishes();
}

std::optional<PageView> PageStack::view() const
{
    if (pages_.empty()) return std::nullopt;
    return pages_.back().page->view();
}

bool PageStack::is_typing() const
{
    const auto shown = view();
    if (!shown || !shown->focused) return false;
    const PageBlock* block = row_of(*shown, *shown->focused);
    const auto* row = block != nullptr ? std::get_if<RowBlock>(block) : nullptr;
    return row != nullptr &&
           (row->kind == RowBlock::Kind::text || row->kind == RowBlock::Kind::hidden_text);
}

void PageStack::act(const PageEvent& event)
{
    if (pages_.empty()) return;
    pages_.back().page->act(event);
    fulfil_wishes();
}

void PageStack::hear(const Answer& answer)
{
    const auto* refused = std::get_if<Refused>(&answer);
    const bool is_somebodys = refused != nullptr && refused->of != RequestNumber{};
    const std::optional<int> asker = is_somebodys ? asker_of(refused->of) : std::nullopt;
    for (const Lying& lying : pages_) {
        if (!is_somebodys || lying.place == asker) lying.page->hear(answer);
    }
    fulfil_wishes();
}

std::optional<int> PageStack::asker_of(RequestNumber number)
{
    const auto found = askers_.find(number);
    if (found == askers_.end()) return std::nullopt;
    const int place = found->second;
    // Answers come in the order of requests: what was asked before has been answered.
    askers_.erase(askers_.begin(), std::next(found));
    return place;
}

void PageStack::hear(const ModelVoice& model)
{
    if (pages_.empty()) return;
    pages_.back().page->recorded(model);
    fulfil_wishes();
}

void PageStack::uncover()
{
    if (pages_.empty()) return;
    pages_.back().page->opened();
    fulfil_wishes();
}

// A page that opens another may have wished for something itself first: until none wishes any more.
void PageStack::fulfil_wishes()
{
    bool any = true;
    while (any) {
        any = false;
        for (std::size_t i = 0; i < pages_.size() && !any; ++i) {
            const int place = pages_[i].place;
            std::vector<PageWish> wishes = pages_[i].page->take_wishes();
            any = !wishes.empty();
            for (PageWish& wish : wishes) fulfil(std::move(wish), place);
        }
    }
}

void PageStack::push(std::unique_ptr<Page> page)
{
    pages_.push_back({++last_place_, std::move(page)});
    pages_.back().page->opened();
}

void PageStack::fulfil(PageWish wish, int place)
{
    if (auto* ask = std::get_if<Ask>(&wish)) {
        const RequestNumber number = new_number();
        askers_.emplace(number, place);
        requests_.push_back({number, std::move(ask->request)});
    } else if (auto* on_top = std::get_if<OpenPage>(&wish)) {
        push(std::move(on_top->page));
    } else if (auto* instead = std::get_if<ReplacePage>(&wish)) {
        if (!pages_.empty()) pages_.pop_back();
        push(std::move(instead->page));
    } else if (std::holds_alternative<ClosePage>(wish)) {
        if (!pages_.empty()) pages_.pop_back();
        if (!pages_.empty()) pages_.back().page->opened();
        if (pages_.empty()) wishes_.emplace_back(LeaveProgram{});
    } else {
        wishes_.push_back(std::move(wish));
    }
}

}  // namespace holdwell
