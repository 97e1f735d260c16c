#include "linkmargin/yaml/short_form/area_places.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/layout/cell_union.hpp"
#include "linkmargin/site/layout/room_layout.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/short_form/room_reader.hpp"

#include <algorithm>
#include <set>
#include <vector>

namespace linkmargin::yaml {
namespace {

class AreaCompleter {
 public:
  AreaCompleter(const Cursor& item, const AreaKeys& keys, const PlaceIndex& index, ObjectReader& reader,
                Area& area, Faults& faults)
      : item_(item), keys_(keys), index_(index), reader_(reader), area_(area), faults_(faults) {}

  void complete() {
    reader_.exactly_one_of({"in", "size_m", "rect_m", "corners_m"});
    if (keys_.beside && !keys_.size) conflict(*keys_.beside, "goes with size_m");
    if (keys_.shift && !keys_.beside) conflict(*keys_.shift, "goes with a room, such as left_of");
    if (keys_.size && !keys_.beside) reader_.missing({"left_of", "right_of", "above", "below"});
    if (keys_.rooms) {
      take_rooms();
    } else if (keys_.size && keys_.beside) {
      lie_beside();
    } else if (!keys_.size && !given("storey") && index_.site().storeys.size() > 1) {
      reader_.missing({"storey"});
    }
  }

 private:
  bool given(std::string_view key) const { return find(item_.node(), key) != nullptr; }

  void conflict(const Cursor& key, const std::string& why) {
    reader_.fault(DiagnosticCode::conflicting_keys, key.key(), why);
  }

  /// The room of that name on the area's storey, where that is known; else on the only one that has it.
  const Room* find_room(const Cursor& at, const std::string& name) {
    std::set<std::size_t> storeys;
    const auto [first, last] = index_.rooms().equal_range(name);
    for (auto it = first; it != last; ++it) {
      if (!storey_known_ || it->second.storey == area_.storey) storeys.insert(it->second.storey);
    }
    if (storeys.size() > 1) {
      add_fault(at, DiagnosticCode::impossible, "there is more than one room " + quoted(name),
                "say which storey", faults_);
      return nullptr;
    }
    if (storeys.empty()) {
      std::vector<std::string> known;
      for (const auto& [other, entry] : index_.rooms()) known.emplace_back(other);
      std::ranges::sort(known);
      add_fault(at, DiagnosticCode::unknown_name, "unknown room " + quoted(name), nearest_hint(name, known),
                faults_);
      return nullptr;
    }
    area_.storey = *storeys.begin();
    storey_known_ = true;
    if (index_.measures(area_.storey).unplaced.contains(name)) {
      faults_.doubt(item_.pointer());
      return nullptr;
    }
    return &*std::ranges::find(index_.site().storeys[area_.storey].rooms, name, &Room::name);
  }

  /// All rooms of a storey but those that stand by it, where no room is called so.
  bool is_house(const std::string& name) const {
    return name == layout::kHouse && !index_.rooms().contains(name) &&
           area_.storey < index_.site().storeys.size();
  }

  std::vector<Room> rooms_of_house() const {
    const std::set<std::string>& beside = index_.measures(area_.storey).beside_house;
    std::vector<Room> rooms = index_.site().storeys[area_.storey].rooms;
    std::erase_if(rooms, [&](const Room& room) { return beside.contains(room.name); });
    return rooms;
  }

  void take_rooms() {
    storey_known_ = given("storey");
    std::vector<Polygon2> shapes;
    const auto names = read_names(*keys_.rooms, faults_);
    for (const std::string& name : names) {
      if (is_house(name)) {
        if (!index_.measures(area_.storey).unplaced.empty()) return faults_.doubt(item_.pointer());
        for (const Room& room : rooms_of_house()) shapes.push_back(room.corners);
        continue;
      }
      const Room* room = find_room(*keys_.rooms, name);
      if (room == nullptr) return;
      shapes.push_back(room->corners);
    }
    if (shapes.size() == 1) area_.corners = shapes.front();
    if (shapes.size() < 2) return;
    const auto whole = layout::united(shapes);
    if (whole) area_.corners = *whole;
    if (!whole)
      add_fault(*keys_.rooms, DiagnosticCode::impossible, "these rooms make no one outline together",
                "give an area for each", faults_);
  }

  void lie_beside() {
    storey_known_ = given("storey");
    const auto name = read_name(*keys_.beside, faults_);
    const auto size = read_pair(*keys_.size, "[width, depth]", limits::kRoomSideM, faults_);
    layout::SizedRoom sized{.name = area_.name, .size = size, .apart = true};
    if (keys_.shift) sized.shift_m = read_number(*keys_.shift, limits::kPlanCoordinateM, faults_);
    if (!name || !size) return;
    if (*name != layout::kHouse && find_room(*keys_.beside, *name) == nullptr) return;
    for (const auto& word : layout::kRelationWords) {
      if (word.word == keys_.beside->key()) sized.neighbours.push_back({word.meaning, *name});
    }
    if (area_.storey >= index_.site().storeys.size()) return;
    const std::vector<Room> rooms =
        is_house(*name) ? rooms_of_house() : index_.site().storeys[area_.storey].rooms;
    const auto insets = index_.measures(area_.storey).insets_of(rooms);
    const layout::Surroundings around{
        .known = rooms, .beneath = {}, .wall_m = 0, .inside = {}, .known_insets = insets};
    layout::RoomLayout found = layout::lay_out({&sized, 1}, around);
    for (const layout::LayoutFault& fault : found.faults)
      add_fault(*keys_.beside, fault.code, fault.message, fault.hint, faults_);
    area_.corners = std::move(found.corners.front());
  }

  const Cursor& item_;
  const AreaKeys& keys_;
  const PlaceIndex& index_;
  ObjectReader& reader_;
  Area& area_;
  Faults& faults_;
  bool storey_known_ = false;
};

}  // namespace

void AreaKeys::take(std::string_view key, const Cursor& value) {
  if (key == "in") rooms = value;
  if (key == "size_m") size = value;
  if (key == "shift_m") shift = value;
  const bool relation =
      std::ranges::any_of(layout::kRelationWords, [key](const auto& word) { return word.word == key; });
  if (relation && !beside) beside = value;
}

void complete_area(const Cursor& item, const AreaKeys& keys, const PlaceIndex& index, ObjectReader& reader,
                   Area& area, Faults& faults) {
  if (item.node().kind != Node::Kind::mapping) return;
  AreaCompleter(item, keys, index, reader, area, faults).complete();
}

}  // namespace linkmargin::yaml
