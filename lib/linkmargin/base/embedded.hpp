#pragma once

#include <span>
#include <string_view>

/// Files of the project that are built into the library, in parts short enough for any compiler. The
/// definitions are written by lib/embed.cmake at build time.
namespace linkmargin::embedded {

std::span<const std::string_view> materials();  ///< data/
std::span<const std::string_view> profiles();
std::span<const std::string_view> starter();
std::span<const std::string_view> trade_words();
std::span<const std::string_view> best_spot_table();
std::span<const std::string_view> sub_bands();
std::span<const std::string_view> opening_kinds();
std::span<const std::string_view> constructions();
std::span<const std::string_view> en();  ///< data/languages
std::span<const std::string_view> de();
std::span<const std::string_view> page_style();  ///< lib/linkmargin/report/page
std::span<const std::string_view> page_script();

}  // namespace linkmargin::embedded
