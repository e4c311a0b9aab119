#pragma once
// The pages that lie upon each other; the topmost is seen. What pages wish of each other and of the
// records is done here, what they wish of the window is handed on.

#include <map>
#include <memory>
#include <optional>
#include <utility>
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
    // Every page hears it: one below may wait for it. A refusal is heard by who asked alone.
    void hear(const Answer& answer);
    void hear(const ModelVoice& model);
    // The window has come back to the topmost page, or another day has begun.
    void uncover();
    // For a request that is not a page's: numbers are given here, each once.
    RequestNumber new_number() { return {++last_number_}; }

    // Since the last call, oldest first.
    std::vector<Asked> take_requests() { return std::exchange(requests_, {}); }
    std::vector<PageWish> take_wishes() { return std::exchange(wishes_, {}); }

private:
    struct Lying {
        int place;  // in the order they were opened, each once
        std::unique_ptr<Page> page;
    };
    void fulfil_wishes();
    void fulfil(PageWish wish, int place);
    void push(std::unique_ptr<Page> page);
    // None: nobody of them asked, or it was closed since.
    std::optional<int> asker_of(RequestNumber number);

    std::vector<Lying> pages_;
    int last_place_{0};
    int last_number_{0};
    std::map<RequestNumber, int> askers_;  // their places; until a later one was refused
    std::vector<Asked> requests_;
    std::vector<PageWish> wishes_;  // those that concern the window
};

}  // namespace holdwell
