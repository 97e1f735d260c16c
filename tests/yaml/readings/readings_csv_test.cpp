#include "linkmargin/yaml/readings/readings_csv.hpp"

#include "linkmargin/site/limits.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/readings_fixture.hpp"

#include <algorithm>

using namespace linkmargin;

namespace {

std::vector<Reading> sound_readings(const std::string& text) {
  const auto readings = parse_readings(text, "r", pottery());
  REQUIRE_MESSAGE(readings, fault_lines(readings));
  return readings->readings;
}

std::string reading_faults(const std::string& text) {
  return fault_lines(parse_readings(text, "r", pottery()));
}

}  // namespace

TEST_CASE("a row with every column filled") {
  const auto readings = sound_readings(
      "device,hub,reading_percent,level_dbm,doors,x_m,y_m,storey,height_m,note\n"
      "loft smoke,hub,,-71.5,open,9.1,5.25,upper,2.1,\"on the beam, \"\"old\"\" side\nof the loft\"\n");
  REQUIRE(readings.size() == 1);
  const Reading expected{.device = "loft smoke",
                         .hub = "hub",
                         .percent = {},
                         .level = Dbm{-71.5},
                         .doors_open = true,
                         .place = Placement{1, snapped(Point2{9.1, 5.25}), 2.1},
                         .note = "on the beam, \"old\" side\nof the loft",
                         .line = 2};
  CHECK(readings.front() == expected);
}

TEST_CASE("a row with as little as there may be") {
  const auto readings = sound_readings("device,reading_percent\nloft smoke,0\n");
  REQUIRE(readings.size() == 1);
  CHECK(readings.front() == Reading{.device = "loft smoke",
                                    .hub = {},
                                    .percent = 0.0,
                                    .level = {},
                                    .doors_open = {},
                                    .place = {},
                                    .note = {},
                                    .line = 2});
}

TEST_CASE("columns stand in any order, and rows keep theirs") {
  const auto readings = sound_readings(
      "note,level_dbm,doors,reading_percent,device\nfirst,,armed,41.5,loft smoke\n,-60,,,hall keypad");
  REQUIRE(readings.size() == 2);
  CHECK(readings[0].percent == 41.5);
  CHECK(readings[0].doors_open == false);
  CHECK(readings[0].note == "first");
  CHECK(readings[1].device == "hall keypad");
  CHECK(readings[1].level == Dbm{-60});
}

TEST_CASE("line ends, byte-order mark, blanks, quotation marks and empty rows change nothing but the lines") {
  const auto plain = sound_readings("device,reading_percent\nloft smoke,35\nhall keypad,36\n");
  for (const char* text : {"device,reading_percent\r\nloft smoke,35\r\nhall keypad,36\r\n",
                           "device,reading_percent\rloft smoke,35\rhall keypad,36",
                           "\xEF\xBB\xBF"
                           "device,reading_percent\nloft smoke,35\nhall keypad,36",
                           "\"device\" , reading_percent\n loft smoke\t, \"35\"\n\"hall keypad\",36 \n",
                           "device,reading_percent\nloft smoke,35\nhall keypad,36\n,\n\n \n\"\",\n"}) {
    CAPTURE(text);
    CHECK(sound_readings(text) == plain);
  }
  const auto spaced = sound_readings("\n\ndevice,reading_percent\n,\nloft smoke,35\n\nhall keypad,36\n");
  REQUIRE(spaced.size() == 2);
  CHECK(spaced[0].line == 5);
  CHECK(spaced[1].line == 7);
}

TEST_CASE("one device may be read many times, at several places") {
  CHECK(sound_readings("device,reading_percent\nloft smoke,35\nloft smoke,35\nloft smoke,41\n").size() == 3);
}

TEST_CASE("numbers are taken to the ends of their ranges and no further") {
  const auto with = [](const char* column, double value) {
    return "device," + std::string(column) + "\nloft smoke," + std::to_string(value) + "\n";
  };
  for (const auto& [column, range] :
       {std::pair("reading_percent", limits::kPercent), std::pair("level_dbm", limits::kReceivedDbm)}) {
    const auto& column_shown = column;
    CAPTURE(column_shown);
    CHECK(reading_faults(with(column, range.min)) == "");
    CHECK(reading_faults(with(column, range.max)) == "");
    CHECK(reading_faults(with(column, range.min - 0.01)) != "");
    CHECK(reading_faults(with(column, range.max + 0.01)) != "");
  }
}

TEST_CASE("bytes that are no text give one fault with its place") {
  const std::string start = "device,reading_percent\nloft smoke,35";
  CHECK(reading_faults(start + "\xE9\n") ==
        "r:2:14: not UTF-8 text: the byte 0xE9 at byte offset 36 (save the file as UTF-8)\n");
  CHECK(reading_faults(start + std::string(1, '\0')) ==
        "r:2:14: not a text file: the byte 0x00 at byte offset 36\n");
  CHECK(reading_faults(std::string(kMaxFileBytes + 1, 'x')) == "r:1:1: the file is larger than 2 MiB\n");
}

TEST_CASE("more readings than a file may hold are refused at the first that is too many") {
  std::string text = "device,reading_percent\n";
  const auto most = static_cast<std::size_t>(limits::kReadings.max);
  for (std::size_t i = 0; i < most; ++i) text += "loft smoke,35\n";
  CHECK(sound_readings(text).size() == most);
  CHECK(reading_faults(text + "loft smok,36\n") == "r:20002:1: a file holds at most 20000 readings\n");
}

TEST_CASE("rows that nobody knows cost little, however many") {
  std::string text = "device,reading_percent\n";
  for (int i = 0; i < 20000; ++i) text += "loft smok" + std::to_string(i) + ",35\n";
  const std::string lines = reading_faults(text);
  CHECK(std::ranges::count(lines, '\n') == 201);
  CHECK(lines.ends_with("\nr: 19800 more faults are not listed (put these right first)\n"));
}

TEST_CASE("a fault's path leads into the list of readings") {
  const auto readings = parse_readings("device,level_dbm\nloft smoke,-70\n\nloft smoke,x\n", "r", pottery());
  REQUIRE_FALSE(readings);
  REQUIRE(readings.error().size() == 1);
  CHECK(readings.error().front().path == "/1/level_dbm");
}

TEST_CASE("the demo readings are sound and hold what their notes say") {
  const auto readings = sound_readings(demo_readings_text());
  CHECK(readings.size() == 14);
  CHECK(std::ranges::count_if(readings, [](const Reading& r) { return r.percent == 100.0; }) == 1);
  CHECK(std::ranges::count_if(readings, [](const Reading& r) { return r.level.has_value(); }) == 1);
  CHECK(std::ranges::count_if(readings, [](const Reading& r) { return r.place.has_value(); }) == 2);
  CHECK(std::ranges::count_if(readings, [](const Reading& r) { return r.doors_open == true; }) == 3);
  CHECK(readings.front().note.find("Invented") == 0);
  for (const Reading& reading : readings) CHECK(reading.percent.has_value() != reading.level.has_value());
}

TEST_CASE("shares of 1 are not taken for percentages") {
  CHECK(reading_faults("device,reading_percent\nloft smoke,0.62\nhall smoke,0.9\n")
            .find("every percentage lies between 0 and 1") != std::string::npos);
  CHECK(reading_faults("device,reading_percent\nloft smoke,0.62\nhall smoke,90\n") == "");
  CHECK(reading_faults("device,reading_percent\nloft smoke,0\nhall smoke,1\n") == "");
}

TEST_CASE("a name that our own tables put behind an apostrophe is known") {
  Site site = pottery();
  site.devices.front().name = "=front";
  const auto readings = parse_readings("device,reading_percent\n'=front,50\n=front,40\n", "r", site);
  REQUIRE(readings);
  CHECK(readings->readings[0].device == "=front");
  CHECK(readings->readings[1].device == "=front");
}
