#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// What a person answers of a house for a first file.
struct FirstHouse {
  std::string name = "My site";
  double frequency_mhz = 868.3;
  std::string construction = "solid brick";
  double height_m = 2.5;   ///< clear height of the rooms
  std::string rooms{};     ///< as one line, see below
  std::string hub_room{};  ///< empty: the first room
  std::string hub_corner = "top left";
  std::vector<std::string> doors{};  ///< to the outside, each a room and a side: "hall bottom"
  std::vector<std::string>
      devices{};  ///< each with its place: "hall motion in hall", "contact on hall front door"
};

/// The text of a first site file in the short form.
/// @return the file, which reads as a site; or a fault a line that cannot be read; or what is wrong with them
/// together, as parse_site() says it
Result<std::string> first_site(const FirstHouse& house, const Tables& tables);

/// The text of a first site file from one line: "hall 2x5, shop 6x5 left of hall, kitchen 4x3.2 above hall".
/// Each room has a name, its width and depth with an x between, and but for the first its neighbour. Sizes
/// are in metres, or each with its unit and without blanks, "20'x16'6\"": in feet or inches the file counts
/// in feet.
/// @return the file, which reads as a site; or a fault a room that cannot be read; or what is wrong with the
/// rooms together, as parse_site() says it
Result<std::string> first_site(std::string_view rooms, const Tables& tables);

}  // namespace linkmargin
