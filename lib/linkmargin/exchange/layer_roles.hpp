#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::exchange {

/// What a layer of a drawing shows.
enum class LayerRole { walls, doors, windows, rooms, names };

/// The word of a file of layers for what a layer shows.
struct LayerRoleName {
  std::string_view word;
  LayerRole role;
};
inline constexpr std::array<LayerRoleName, 5> kLayerRoles{{{"walls", LayerRole::walls},
                                                           {"doors", LayerRole::doors},
                                                           {"windows", LayerRole::windows},
                                                           {"rooms", LayerRole::rooms},
                                                           {"names", LayerRole::names}}};

/// A layer by its name, in which * stands for any letters and ? for one; the size of letters does not count.
struct LayerPattern {
  std::string pattern;
  LayerRole role{};
};

/// Which layers show what; the first pattern that fits decides.
struct LayerMap {
  std::vector<LayerPattern> patterns;
};

/// Whether a name fits a pattern.
bool fits_pattern(std::string_view pattern, std::string_view name);

/// What a layer shows by a map.
std::optional<LayerRole> role_of(const LayerMap& map, std::string_view layer);

/// The map by common words for walls, doors, windows, rooms and names in names of layers, English and German.
const LayerMap& common_layer_words();

}  // namespace linkmargin::exchange
