#pragma once

#include "linkmargin/site/layout/side.hpp"
#include "linkmargin/site/wall_plan.hpp"
#include "linkmargin/text/mark.hpp"

#include <map>
#include <set>
#include <string>
#include <vector>

namespace linkmargin::yaml {

/// The slab over a room, as the room says it.
struct OwnCeiling {
  Construction made;
  Mark mark;
};

/// What was typed of a storey that its nouns do not hold.
struct StoreyMeasures {
  std::map<std::string, layout::Inset> insets{};  ///< of rooms, from the drawn lines to what was measured to
  std::set<std::string> unplaced{};               ///< rooms whose place could not be read
  std::set<std::string> beside_house{};           ///< rooms that stand by the house, and are none of it
  std::vector<WallPiece> plan{};                  ///< its walls, where it has openings
  std::map<std::string, OwnCeiling> ceilings{};   ///< of rooms that say one
  std::map<std::string, double> contact_m{};      ///< of openings with a kind: where a contact hangs on them

  layout::Inset inset(const std::string& room) const {
    const auto found = insets.find(room);
    return found == insets.end() ? layout::Inset{} : found->second;
  }
  std::vector<layout::Inset> insets_of(const std::vector<Room>& rooms) const {
    std::vector<layout::Inset> of_rooms;
    for (const Room& room : rooms) of_rooms.push_back(inset(room.name));
    return of_rooms;
  }
};

}  // namespace linkmargin::yaml
