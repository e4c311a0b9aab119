#pragma once
// The pages that lie upon each other; the topmost is seen. What pages wish of each other and of the
// records is done here, what they wish of the window is handed on.

#include <memory>
#include <vector>

#include "app/pages/page.h"

namespace holdwell {

// How many rows of a page can be gone to.
int rows_in(const PageView& view);

class PageStack {
public:
    void open(std::unique_ptr<Page> page);
    bool is_empty() const { return pages_.empty(); }
    // Absent when there is no page.
    std::optional<PageView> view() const;
    // The focus is in a row that is typed into.
    bool is_typing() const;

    void act(const PageEvent& event);
    // Every page hears it: one below may wait for it.
    void hear(const Answer& answer);
    void hear(const ModelVoice& model);
    // The window has come back to the topmost page.
    void uncover();

    // Since the last call, oldest first.
    std::vector<Request> take_requests() { return std::exchange(requests_, {}); }
    std::vector<PageWish> take_wishes() { return std::exchange(wishes_, {}); }

private:
    void fulfil_wishes();
    void fulfil(PageWish wish);

    std::vector<std::unique_ptr<Page>> pages_;
    std::vector<Request> requests_;
    std::vector<PageWish> wishes_;  // those that concern the window
};

}  // namespace holdwell
