#pragma once
// Asks before something that cannot be undone, and goes on only when a word was typed.

#include <memory>
#include <string>

#include "app/pages/page.h"

namespace holdwell {

struct Confirmation {
    std::string title;
    std::string lead;
    std::string what_happens;
    std::string word;    // to be typed exactly
    std::string button;  // "Delete everything of C-104"
    Request request;     // asked for once it was typed; answered without refusal, the page closes
};
std::unique_ptr<Page> confirm_page(Confirmation confirmation);

}  // namespace holdwell
