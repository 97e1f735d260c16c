#include "linkmargin/report/json_values.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace linkmargin;

TEST_CASE("edits as a list of paths and values, written as in a site file") {
  const std::vector<Edit> edits{
      {"/hubs/a~1b/height_m", 1.5},
      {"/hubs/a~1b/at_m", snapped(Point2{0.1, -3.2})},
      {"/devices/d/hub", "a \"b\""},
      {"/radio/routes", false},
      {"/repeaters/landing", NewRadio{"repeater", "upper", snapped(Point2{6, 2.3}), 2.2}}};
  CHECK(
      json::edits(edits).dump() ==
      R"([{"path":"/hubs/a~1b/height_m","value":1.5},{"path":"/hubs/a~1b/at_m","value":[0.1,-3.2]},)"
      R"({"path":"/devices/d/hub","value":"a \"b\""},{"path":"/radio/routes","value":false},)"
      R"({"path":"/repeaters/landing","value":{"profile":"repeater","storey":"upper","at_m":[6.0,2.3],"height_m":2.2}}])");
  CHECK(json::edits({}).dump() == "[]");
}
