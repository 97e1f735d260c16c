#include "linkmargin/yaml/readings/readings_csv.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/readings_fixture.hpp"

#include <vector>

using namespace linkmargin;

namespace {

SiteReadings sound_sheet(const std::string& text, const Site& site = pottery()) {
  const auto readings = parse_readings(text, "r", site);
  REQUIRE_MESSAGE(readings, fault_lines(readings));
  return *readings;
}

std::string sheet_faults(const std::string& text, const Site& site = pottery()) {
  return fault_lines(parse_readings(text, "r", site));
}

}  // namespace

TEST_CASE("headers are known in any case, with units apart, and by a second name") {
  const auto plain = sound_sheet("device,reading_percent,taken,note\nloft smoke,35,2026-03-01,low\n");
  for (const char* header : {"Device,Reading %,Taken,Notes", "DEVICE,Reading [%],TAKEN,Remarks",
                             "device name,reading percent,taken,Comment", "Device,%,Taken,NOTE",
                             "Device,Reading\u00A0(%),Taken,Remark"}) {
    CAPTURE(header);
    const auto found = sound_sheet(std::string(header) + "\nloft smoke,35,2026-03-01,low\n");
    CHECK(found.readings == plain.readings);
    CHECK(found.ignored_columns.empty());
  }
  const auto level =
      sound_sheet("Device,Level (dBm),X (m),Y m,Storey,Height [m]\nloft smoke,-60,9,5,upper,1\n");
  CHECK(level.readings.front().level == Dbm{-60});
  CHECK(level.readings.front().place->height_m == 1);
}

TEST_CASE("a column under two names stands twice") {
  CHECK(sheet_faults("device,Reading %,reading\nloft smoke,35,36\n") ==
        "r:1:18: duplicate column 'reading' (it is column 2 already)\n");
}

TEST_CASE("unknown columns are named once each and ignored") {
  const auto found =
      sound_sheet("device,Battery,reading_percent,Zone,Battery,Fitter\nloft smoke,3.1,35,2,x,\"a\"\"b\"\n");
  REQUIRE(found.readings.size() == 1);
  CHECK(found.readings.front().percent == 35.0);
  CHECK(found.ignored_columns == std::vector<std::string>{"Battery", "Zone", "Fitter"});
}

TEST_CASE("a column that is nearly a known one is a fault, unless that is there") {
  CHECK(sheet_faults("device,reading_percent,dors\nloft smoke,35,open\n") ==
        "r:1:24: unknown column 'dors' (did you mean 'doors'?)\n");
  for (const char* slip : {"devce", "devicee", "devjce", "edvice"}) {
    CAPTURE(slip);
    CHECK(sheet_faults(std::string(slip) + ",reading_percent\nloft smoke,35\n") ==
          "r:1:1: unknown column '" + std::string(slip) + "' (did you mean 'device'?)\n");
  }
  for (const char* other : {"Zone", "Name", "Date", "Type", "Number", "Floor"}) {
    CAPTURE(other);
    CHECK(
        sound_sheet("device,reading_percent," + std::string(other) + "\nloft smoke,35,x\n").ignored_columns ==
        std::vector<std::string>{other});
  }
  CHECK(sound_sheet("device,reading_percent,doors,dors\nloft smoke,35,open,\n").ignored_columns ==
        std::vector<std::string>{"dors"});
}

TEST_CASE("names and doors are known in any case, if one name has that look") {
  const auto found = sound_sheet(
      "device,hub,reading_percent,doors,x_m,y_m,storey,height_m\n"
      "LOFT SMOKE,Hub,35,Armed,9,5,Upper,1\nHall  Smoke,HUB,36,OPEN,,,,\n");
  REQUIRE(found.readings.size() == 2);
  CHECK(found.readings[0].device == "loft smoke");
  CHECK(found.readings[0].hub == "hub");
  CHECK(found.readings[0].doors_open == false);
  CHECK(found.readings[0].place->storey == 1);
  CHECK(found.readings[1].device == "hall smoke");
  CHECK(found.readings[1].doors_open == true);

  Site twins = pottery();
  twins.devices[0].name = "gate";
  twins.devices[1].name = "Gate";
  CHECK(sound_sheet("device,reading_percent\ngate,35\nGate,36\n", twins).readings[1].device == "Gate");
  CHECK(sheet_faults("device,reading_percent\nGATE,35\n", twins) ==
        "r:2:1: unknown device 'GATE' (did you mean 'Gate'?)\n");
}

TEST_CASE("a row without a reading was not read yet, and nothing else in it is looked at") {
  const auto found = sound_sheet(
      "device,reading_percent,level_dbm,doors,taken\n"
      "nobody,,,shut,never\nloft smoke,35,,,\nhall smoke, ,\"\",armed,\nhall keypad,,-60,,\n");
  REQUIRE(found.readings.size() == 2);
  CHECK(found.readings[0].line == 3);
  CHECK(found.readings[1].line == 5);
}

TEST_CASE("a row that does not fit the header is a fault, read or not") {
  CHECK(sheet_faults("device,reading_percent,note\nloft smoke,35,\nhall smoke,\n") ==
        "r:3:1: the header has 3 fields, this row 2 (an empty field still has its comma)\n");
}

TEST_CASE("nothing heard counts as 0 %") {
  for (const char* written : {"not heard", "Not Heard", "none", "NONE", "\" not  heard \""}) {
    CAPTURE(written);
    CHECK(sound_sheet("device,reading_percent\nloft smoke," + std::string(written) + "\n")
              .readings.front()
              .percent == 0.0);
    const auto in_dbm = sound_sheet("device,level_dbm\nloft smoke," + std::string(written) + "\n");
    CHECK(in_dbm.readings.front().percent == 0.0);
    CHECK_FALSE(in_dbm.readings.front().level);
  }
  CHECK(sheet_faults("device,reading_percent\nloft smoke,-\n") ==
        "r:2:12: reading_percent: expected a number, found \"-\"\n");
  CHECK(sheet_faults("device,reading_percent\nloft smoke,nothing\n") ==
        "r:2:12: reading_percent: expected a number, found \"nothing\"\n");
  CHECK(sheet_faults("device,reading_percent,level_dbm\nloft smoke,none,-60\n").find("stands beside") !=
        std::string::npos);
}

TEST_CASE("room and height of the sheet are ignored without a word") {
  const auto found = sound_sheet("device,Room,height_m,reading_percent\nloft smoke,anywhere,240,35\n");
  REQUIRE(found.readings.size() == 1);
  CHECK_FALSE(found.readings.front().place);
  CHECK(found.ignored_columns.empty());
  // Beside the other columns of a place the height is read where one of those is filled.
  const std::string columns = "device,reading_percent,x_m,y_m,storey,height_m\n";
  CHECK_FALSE(sound_sheet(columns + "loft smoke,35,,,,2.1\n").readings.front().place);
  CHECK(sound_sheet(columns + "loft smoke,35,9,5,upper,2.1\n").readings.front().place->height_m == 2.1);
  CHECK(sheet_faults(columns + "loft smoke,35,9,,,2.1\n") != "");
}

TEST_CASE("readings say what part a repeater has in them") {
  const auto found = sound_sheet(
      "device,hub,via,reading_percent\n"
      "loft smoke,hub,,35\nLanding Repeater,hub,,81\nloft smoke,,landing repeater,77\n");
  REQUIRE(found.readings.size() == 3);
  CHECK_FALSE(found.readings[0].of_repeater);
  CHECK_FALSE(found.readings[0].via);
  CHECK(found.readings[1].device == "landing repeater");
  CHECK(found.readings[1].of_repeater);
  CHECK_FALSE(found.readings[1].via);
  CHECK(found.readings[2].device == "loft smoke");
  CHECK_FALSE(found.readings[2].of_repeater);
  CHECK(found.readings[2].via == "landing repeater");
  CHECK(found.readings[2].line == 4);
}

TEST_CASE("a file of readings with repeaters alone is sound") {
  const auto found = sound_sheet("device,reading_percent\nlanding repeater,81\n");
  REQUIRE(found.readings.size() == 1);
  CHECK(found.readings[0].of_repeater);
}

TEST_CASE("when a reading was taken is kept in one writing") {
  const auto found = sound_sheet(
      "device,reading_percent,taken\nloft smoke,35,2026-3-1 9:05\nloft smoke,36,14:05\nloft smoke,37,\n"
      "loft smoke,38,' 2026-03-01 \n");
  CHECK(found.readings[0].taken == "2026-03-01T09:05");
  CHECK(found.readings[1].taken == "14:05");
  CHECK(found.readings[2].taken.empty());
  CHECK(found.readings[3].taken == "2026-03-01");
}
