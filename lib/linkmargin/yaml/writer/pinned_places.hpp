#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/tree/node.hpp"
#include "linkmargin/yaml/writer/splice.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Not installed.
namespace linkmargin::yaml {

/// A change of a text, and what it is about.
struct Pin {
  std::string path;  ///< JSON Pointer of the radio, opening or storey
  std::vector<Splice> splices;
};

/// What is still to be written as figures, for a text that reads as one site to read as another: places and
/// heights of radios that were said in words or by a neighbour, distances of openings from the end of their
/// wall, levels that follow from others, walls and slabs of a `construction`. The first that differs, so that
/// the text can be read again; an empty path where nothing of that kind differs.
/// @return nothing where the text is not written as the tree has it
std::optional<Pin> next_pin(std::string_view text, const Node& root, const Site& reads, const Site& wanted);

/// Whether a path leads to the plan coordinates or the storey of a radio whose place is said in words.
bool is_place_in_words(const Node& root, const std::vector<std::string>& names);

/// The splices that give `at` of such a radio another place within its room; nothing where that leaves the
/// room, or the radio hangs on an opening.
/// @param site  as the text reads; @param names  of a path to `at_m`, see is_place_in_words()
std::optional<std::vector<Splice>> moved_in_words(std::string_view text, const Node& root, const Site& site,
                                                  const std::vector<std::string>& names, Point2 at);

}  // namespace linkmargin::yaml
