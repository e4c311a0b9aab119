#pragma once
// Writes one file to be handed to somebody: says what will be in it before it is written, and what
// is in it afterwards.

#include <memory>

#include "app/pages/page.h"
#include "app/pages/pages.h"

namespace holdwell {

enum class HandOver { plan, practices, table };
std::unique_ptr<Page> hand_over_page(HandOver what, const FilesPageFor& whose);

}  // namespace holdwell
