#pragma once

#include <span>
#include <string_view>

// Inside site/ only: a file of data/ that is built into the program, in parts (lib/embed.cmake).
namespace linkmargin::site {

std::span<const std::string_view> embedded_trade_words();

}  // namespace linkmargin::site
