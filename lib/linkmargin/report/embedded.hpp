#pragma once

#include <span>
#include <string_view>

// Inside report/ only: files of report/page/ that are built into the program, in parts (lib/embed.cmake).
namespace linkmargin::report {

std::span<const std::string_view> embedded_page_style();
std::span<const std::string_view> embedded_page_script();

}  // namespace linkmargin::report
