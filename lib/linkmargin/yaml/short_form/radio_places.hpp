#pragma once

#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/short_form/storey_measures.hpp"
#include "linkmargin/yaml/tree/object_reader.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace linkmargin::yaml {

/// The keys of one radio beside those that its noun holds.
struct RadioPlaceKeys {
  std::optional<Cursor> room{};     ///< `in`
  std::optional<Cursor> opening{};  ///< `on`
  std::optional<Cursor> spot{};     ///< `at`

  /// Notes a key that is one of these.
  void take(std::string_view key, const Cursor& value);
};

/// The rooms and openings of a building by their names. Refers to the site and to the measures of its
/// storeys.
class PlaceIndex {
 public:
  struct Entry {
    std::size_t storey = 0;
    std::size_t position = 0;  ///< among the rooms or openings of the storey
  };
  using Names = std::unordered_multimap<std::string_view, Entry>;

  /// @param site  its storeys and profiles are read
  PlaceIndex(const Site& site, const std::vector<StoreyMeasures>& measures);

  const Site& site() const { return site_; }
  const StoreyMeasures& measures(std::size_t storey) const { return measures_[storey]; }
  const Names& rooms() const { return rooms_; }
  const Names& openings() const { return openings_; }

 private:
  const Site& site_;
  const std::vector<StoreyMeasures>& measures_;
  Names rooms_;
  Names openings_;
};

/// Completes the place of a radio whose other keys were read: its storey, its place in plan by the room or
/// the opening that it hangs at, its height by its profile. What is missing or contradicts becomes a fault.
void complete_place(const Cursor& radio, const RadioPlaceKeys& keys, const std::string& profile,
                    const PlaceIndex& index, ObjectReader& reader, Placement& place, Faults& faults);

}  // namespace linkmargin::yaml
