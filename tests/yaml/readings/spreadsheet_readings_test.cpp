#include "linkmargin/base/number_text.hpp"
#include "linkmargin/yaml/readings/readings_csv.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/readings_fixture.hpp"
#include "fixtures/sheet_writing.hpp"

#include <algorithm>
#include <array>

using namespace linkmargin;

namespace {

std::string spreadsheet_faults(const std::string& text) {
  return fault_lines(parse_readings(text, "r", pottery()));
}

void check_reads_the_same(const std::vector<Reading>& expected, const Writing& writing) {
  const std::string text = written(expected, writing);
  CAPTURE(text);
  for (const std::string& bytes :
       {text, "\xEF\xBB\xBF" + text, utf16_bytes(wide(text), false), utf16_bytes(wide(text), true)}) {
    auto readings = parse_readings(bytes, "r", pottery());
    REQUIRE_MESSAGE(readings, fault_lines(readings));
    std::vector<Reading>& found = readings->readings;
    REQUIRE(found.size() == expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
      CHECK(found[i].line == static_cast<int>(i) + (writing.extras ? 3 : 2));
      found[i].line = expected[i].line;
    }
    CHECK(found == expected);
  }
}

/// A value of one column: what is read, or the fault.
struct Oddity {
  const char* column;
  const char* field;  ///< as it stands in a file that semicolons separate
  const char* read;   ///< a number, or the fault without its place
};

constexpr std::array kOddities{
    Oddity{"reading_percent", "0,35", "0.35"},
    Oddity{"reading_percent", "35.5", "35.5"},
    Oddity{"reading_percent", "35 %", "35"},
    Oddity{"reading_percent", "35%", "35"},
    Oddity{"reading_percent", "'35", "35"},
    Oddity{"reading_percent", "' 35 %", "35"},
    Oddity{"reading_percent", "=\"35\"", "35"},
    Oddity{"reading_percent", "\"=\"\"35 %\"\"\"", "35"},
    Oddity{"reading_percent", "\" 35 \"", "35"},
    Oddity{"reading_percent", "1,000", "1"},  // 1000 % is none
    Oddity{"reading_percent", "140 %", "reading_percent: 140 is outside 0..100"},
    Oddity{"reading_percent", "-3 %", "reading_percent: -3 is outside 0..100"},
    Oddity{"reading_percent", "-3",
           "reading_percent: expected a percentage, found \"-3\" (a level in dBm stands under level_dbm)"},
    Oddity{"reading_percent", "\u221261\u00A0dBm",
           "reading_percent: expected a percentage, found \"\u221261\u00A0dBm\" (a level in dBm stands under "
           "level_dbm)"},
    Oddity{"reading_percent", "1.234,5",
           "reading_percent: expected a number, found \"1.234,5\" (write no mark between thousands)"},
    Oddity{"reading_percent", "=1+1", "reading_percent: expected a number, found \"=1+1\""},
    Oddity{"level_dbm", "-61 dBm", "-61"},
    Oddity{"level_dbm", "\u221261,5", "-61.5"},
    Oddity{"level_dbm", "'-61", "-61"},
    Oddity{"level_dbm", "=\"-61 dBm\"", "-61"},
    Oddity{"level_dbm", "-61,000", "-61"},
    Oddity{"level_dbm", "35 %",
           "level_dbm: expected a level in dBm, found \"35 %\" (a percentage stands under reading_percent)"},
    Oddity{"level_dbm", "%35",
           "level_dbm: expected a level in dBm, found \"%35\" (a percentage stands under reading_percent)"},
    Oddity{"level_dbm", "-61 dB",
           "level_dbm: expected a number, found \"-61 dB\" (did you mean -61? the unit stands in the key)"},
};

/// The value, or the fault without its place.
std::string read_back(const Oddity& oddity) {
  const auto readings = parse_readings(
      "device;" + std::string(oddity.column) + "\nloft smoke;" + oddity.field + "\n", "r", pottery());
  if (!readings) {
    REQUIRE(readings.error().size() == 1);
    const Diagnostic& fault = readings.error().front();
    CHECK(fault.line == 2);
    CHECK(fault.column == 12);
    return fault.message + (fault.hint.empty() ? "" : " (" + fault.hint + ")");
  }
  const Reading& reading = readings->readings.front();
  return shortest_text(reading.percent ? *reading.percent : reading.level->value);
}

/// The faults of a file with these x coordinates.
std::string of_x(char separator, const std::vector<std::string>& values) {
  std::string text = "device,reading_percent,x_m,y_m,storey,height_m\n";
  for (const std::string& value : values) text += "loft smoke,35,\"" + value + "\",2,upper,1\n";
  std::ranges::replace(text, ',', '\a');
  std::string result;
  bool quoted = false;
  for (const char letter : text) {
    quoted = quoted != (letter == '"');
    result += letter != '\a' ? letter : (quoted ? ',' : separator);
  }
  return spreadsheet_faults(result);
}

}  // namespace

TEST_CASE("the demo readings are the same in every writing of a spreadsheet") {
  const auto demo = parse_readings(demo_readings_text(), "r", pottery());
  REQUIRE(demo);
  int writings = 0;
  for (const char separator : {',', ';', '\t'}) {
    for (const char decimal : {'.', ','}) {
      for (const char* line_end : {"\n", "\r\n", "\r"}) {
        for (unsigned bits = 0; bits < 16; ++bits) {
          check_reads_the_same(demo->readings, {separator, decimal, line_end, (bits & 1U) != 0,
                                                (bits & 2U) != 0, (bits & 4U) != 0, (bits & 8U) != 0});
          ++writings;
        }
      }
    }
  }
  CHECK(writings == 288);
}

TEST_CASE("values as spreadsheets write them, one row an oddity") {
  for (const Oddity& oddity : kOddities) {
    CAPTURE(oddity.column);
    CAPTURE(oddity.field);
    CHECK(read_back(oddity) == oddity.read);
  }
}

TEST_CASE("a mark before three figures is decimal where the file shows it so") {
  for (const char separator : {',', ';', '\t'}) {
    CAPTURE(separator);
    CHECK(of_x(separator, {"1.234", "1.5"}) == "");
    CHECK(of_x(separator, {"1,234", "1,5"}) == "");
    CHECK(of_x(separator, {"9.125", "9,125", "1,5", "1.5"}) == "");  // 9125 m is too far
    const std::string rest = " (write one decimal more, or no mark between thousands)\n";
    CHECK(of_x(separator, {"1,234", "1.5"}) == "r:2:15: x_m: \"1,234\" may be 1.234 or 1234" + rest);
    CHECK(of_x(separator, {"1.234", "1,5"}) == "r:2:15: x_m: \"1.234\" may be 1.234 or 1234" + rest);
    CHECK(of_x(separator, {"-1.234", "1,5", "2.5"}) ==
          "r:2:15: x_m: \"-1.234\" may be -1.234 or -1234" + rest);
    CHECK((of_x(separator, {"1.234"}) == "") == (separator == ','));
    CHECK((of_x(separator, {"1,234"}) == "") == (separator == ';'));
  }
}

TEST_CASE("rows may go on with empty fields, but not where a decimal comma may have made one") {
  CHECK(spreadsheet_faults("device;reading_percent\nloft smoke;0,35;;\n") == "");
  CHECK(spreadsheet_faults("device\treading_percent\nloft smoke\t0.35\t\n") == "");
  const std::string wide(1000, ';');
  CHECK(spreadsheet_faults("device;reading_percent" + wide + "\nloft smoke;35" + wide + "\n" + wide + "\n") ==
        "");
  CHECK(spreadsheet_faults("device;reading_percent" + wide + "\nloft smoke;35" + wide + "x\n")
            .find("r:2:268: a value in") == 0);
  CHECK(spreadsheet_faults("device,reading_percent,note\nloft smoke,0,35,\n")
            .find("r:2:17: the header has 3 fields") == 0);
  CHECK(spreadsheet_faults("device,reading_percent,note,\nloft smoke,0,35,,\n")
            .find("r:2:18: the header has 4 fields") == 0);
}

TEST_CASE("a row that a decimal comma makes fit is told by what separates the fields") {
  CHECK(spreadsheet_faults("device,reading_percent\nloft smoke;35,5\n") ==
        "r:2:1: unknown device 'loft smoke;35' (commas separate the fields of this file)\n");
}

TEST_CASE("names and notes are text, whatever they look like") {
  const auto readings = parse_readings(
      "device;reading_percent;note\n=\"loft smoke\";35;=1+1\n'loft smoke;36;'a\n\"loft smoke\";37;\" "
      "=\"\"b\"\"\"\n",
      "r", pottery());
  REQUIRE_MESSAGE(readings, fault_lines(readings));
  REQUIRE(readings->readings.size() == 3);
  for (const Reading& reading : readings->readings) CHECK(reading.device == "loft smoke");
  CHECK(readings->readings[0].note == "=1+1");
  CHECK(readings->readings[1].note == "'a");
  CHECK(readings->readings[2].note == " =\"b\"");
  CHECK(spreadsheet_faults("device;reading_percent\n=1+1;35\n") == "r:2:1: unknown device '=1+1'\n");
}

TEST_CASE("a name that really begins with an apostrophe is that name") {
  Site site = pottery();
  site.devices.front().name = "'loft smoke";
  const auto readings = parse_readings("device,reading_percent\n'loft smoke,35\n", "r", site);
  REQUIRE(readings);
  CHECK(readings->readings.front().device == "'loft smoke");
}
