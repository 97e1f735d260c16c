#include "linkmargin/report/readings_sheet.hpp"

#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/yaml/readings/readings_csv.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/readings_fixture.hpp"

#include <sstream>
#include <string>
#include <vector>

using namespace linkmargin;

namespace {

/// The lines of the sheet, the header first.
std::vector<std::string> lines_of(const Site& site) {
  std::istringstream text(write_csv(readings_sheet(site)));
  std::vector<std::string> lines;
  for (std::string line; std::getline(text, line);) lines.push_back(line.substr(0, line.find('\r')));
  return lines;
}

std::string text_of(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

/// A row of the sheet with a reading in it: the first empty field but one behind the room and the height.
std::string filled(const std::string& line, const std::string& percent) {
  std::string row = line;
  const std::size_t empty = row.find(",,,,,");  // before the reading, doors, taken, via and note
  REQUIRE(empty != std::string::npos);
  return row.insert(empty + 1, percent);
}

}  // namespace

TEST_CASE("the sheet has a row for each device and each repeater, with nothing read yet") {
  const Site& site = pottery();
  const auto lines = lines_of(site);
  CHECK(lines.front() == "device,hub,room,height_m,reading_percent,doors,taken,via,note");
  REQUIRE(lines.size() == 1 + site.devices.size() + site.repeaters.size());
  for (std::size_t i = 0; i < site.devices.size(); ++i)
    CHECK(lines[i + 1].starts_with(site.devices[i].name + ","));
  CHECK(lines.back().starts_with(site.repeaters.back().name + ","));
  CHECK(fault_lines(parse_readings(text_of(lines), "r", site)) == "r:1:1: no reading is filled in yet\n");
}

TEST_CASE("a filled sheet reads back as it was filled in") {
  const Site& site = pottery();
  auto lines = lines_of(site);
  const std::size_t last = lines.size() - 1;
  lines[1] = filled(lines[1], "62");
  lines[last] = filled(lines[last], "not heard");
  const auto found = parse_readings(text_of(lines), "r", site);
  REQUIRE_MESSAGE(found, fault_lines(found));
  REQUIRE(found->readings.size() == 2);
  CHECK(found->readings[0].device == site.devices[0].name);
  CHECK(found->readings[0].percent == 62.0);
  CHECK_FALSE(found->readings[0].place);
  CHECK(found->readings[1].device == site.repeaters.back().name);
  CHECK(found->readings[1].of_repeater);
  CHECK(found->readings[1].percent == 0.0);
  CHECK(found->ignored_columns.empty());
}

TEST_CASE("the sheet says the room, else the storey, and the storey too where a room's name is there twice") {
  Site site = pottery();
  Device& device = site.devices.front();
  const Room& room = site.storeys[0].rooms.front();
  const auto where = [&] {
    const auto sheet = readings_sheet(site);
    return std::get<std::string>(sheet.rows.front().cells[2].value);
  };
  device.place = {0, {room.corners.front().x + 0.5, room.corners.front().y + 0.5}, 1};
  const std::string name = where();
  CHECK(name != site.storeys[0].name);
  device.place.at = {-50, -50};
  CHECK(where() == site.storeys[0].name);
  for (Room& other : site.storeys[1].rooms) other.name = name;
  device.place.at = {room.corners.front().x + 0.5, room.corners.front().y + 0.5};
  CHECK(where() == name + " (" + site.storeys[0].name + ")");
}

TEST_CASE("the hub that a device is enrolled with and its note stand in the sheet") {
  Site site = pottery();
  site.devices[0].hub = site.hubs[0].name;
  site.devices[0].note = "over the door";
  const auto sheet = readings_sheet(site);
  CHECK(std::get<std::string>(sheet.rows[0].cells[1].value) == site.hubs[0].name);
  CHECK(std::get<std::string>(sheet.rows[0].cells.back().value) == "over the door");
}
