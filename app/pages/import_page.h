#pragma once
// Brings in one file: opened and looked at first, taken in only when that was confirmed.

#include <filesystem>
#include <memory>

#include "app/pages/page.h"
#include "app/pages/pages.h"

namespace holdwell {

std::unique_ptr<Page> import_page(std::filesystem::path file, const FilesPageFor& whose);

}  // namespace holdwell
