#include "linkmargin/yaml/site/mobility_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/site/shapes_yaml.hpp"

namespace linkmargin::yaml {

Mobility read_mobility(const Cursor& cursor, Faults& faults) {
  ObjectReader reader(cursor, "may_move", faults);
  Mobility mobility{Mobility::Radius{0}};  // a radius of nothing, unless more can be read
  reader.exactly_one_of({"radius_m", "along_m", "within", "within_m"});
  if (const auto radius_m = reader.number_if("radius_m", limits::kMoveM)) {
    mobility.reach = Mobility::Radius{*radius_m};
  }
  if (const auto list = reader.find("along_m")) {
    auto line = read_points(*list, limits::kLinePoints, faults);
    if (!line.empty()) mobility.reach = Mobility::Along{std::move(line)};
  }
  if (const auto room = reader.name_if("within")) mobility.reach = Mobility::WithinRoom{*room};
  if (const auto list = reader.find("within_m")) {
    auto corners = read_corners(*list, limits::kAreaSideM, faults);
    if (!corners.empty()) mobility.reach = Mobility::Within{std::move(corners)};
  }
  reader.finish();
  return mobility;
}

}  // namespace linkmargin::yaml
