#pragma once

#include <span>
#include <string_view>

/// The files of data/ that are built into the program, in parts short enough for any compiler. The
/// definitions are written by embed.cmake at build time.
namespace linkmargin::yaml {

std::span<const std::string_view> embedded_materials();
std::span<const std::string_view> embedded_profiles();
std::span<const std::string_view> embedded_starter();
std::span<const std::string_view> embedded_en();  ///< data/languages
std::span<const std::string_view> embedded_de();

}  // namespace linkmargin::yaml
