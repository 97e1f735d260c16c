#include "linkmargin/yaml/site/mobility_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"

namespace linkmargin::yaml {

Mobility read_mobility(const Cursor& cursor, Faults& faults) {
  ObjectReader reader(cursor, "may_move", faults);
  Mobility mobility{Mobility::Radius{0}};  // a radius of nothing, unless more can be read
  read_fields(reader, mobility, {faults}, [&](std::string_view, const Cursor& list) {
    auto line = read_points(list, limits::kLinePoints, faults);
    if (!line.empty()) mobility.reach = Mobility::Along{std::move(line)};
  });
  reader.finish();
  return mobility;
}

}  // namespace linkmargin::yaml
