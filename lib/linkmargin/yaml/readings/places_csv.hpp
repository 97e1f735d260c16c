#pragma once

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/base/result.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// A list of places holds up to so many bytes and rows.
inline constexpr std::size_t kMaxPlacesBytes = 256U << 20U;
inline constexpr std::size_t kMostPlaces = 5'000'000;

/// A list of places at which a radio is to be predicted: CSV as readings_csv.hpp takes it, with the columns
/// `profile`, `x_m`, `y_m`, `height_m`, with `storey` where the site has several, and if wanted `name` and
/// `hub`, the hub that the radio is enrolled with.
/// @return a device for each row; "place 1", "place 2" and so on where no name is written
Result<std::vector<Device>> parse_places(std::string_view text, const std::string& file_name,
                                         const Site& site);

}  // namespace linkmargin
