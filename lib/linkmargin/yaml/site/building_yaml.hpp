#pragma once

#include "linkmargin/site/building.hpp"
#include "linkmargin/site/layout/usual.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <vector>

namespace linkmargin::yaml {

/// A house as it was typed.
struct TypedBuilding {
  std::vector<Storey> storeys;
  std::vector<StoreyMeasures> measures;  ///< of each storey
};

/// What a house says once for all its storeys.
struct HouseDefaults {
  const layout::HouseConstruction* construction = nullptr;
  Construction outer_wall{};  ///< its material empty: not said
  Construction inner_wall{};
  bool measured_inside = false;
};

/// The section `storeys`. A storey without a readable name goes by its position, a room without a readable
/// place is a square far from all others, so that what can be judged of the rest still can. Levels that are
/// not typed follow from the storey below, or else from the one above.
/// @param house  what holds where a storey says nothing else
TypedBuilding read_storeys(const Cursor& list, const HouseDefaults& house, Faults& faults);

}  // namespace linkmargin::yaml
