#include "linkmargin/yaml/readings/readings_csv.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/readings_fixture.hpp"

#include <algorithm>
#include <filesystem>
#include <map>

using namespace linkmargin;

namespace {

std::string faults_of(const std::string& name) {
  const auto text = read_text_file(LINKMARGIN_TEST_DATA "/faults/" + name + ".csv");
  REQUIRE(text);
  return fault_lines(parse_readings(*text, name + ".csv", pottery()));
}

/// What each CSV file of tests/faults says, whole: file, line, column, message and hint.
const std::map<std::string, std::string> kExpected{
    {"readings_broken_header",
     R"(readings_broken_header.csv:1:9: text after the closing quotation mark of a field (write a quotation mark inside a field twice)
readings_broken_header.csv:2:12: reading_percent: expected a number, found "35x" (did you mean 35? the unit stands in the key)
)"},
    {"readings_decimal_marks",
     R"(readings_decimal_marks.csv:2:17: x_m: "1,234" may be 1.234 or 1234 (write one decimal more, or no mark between thousands)
readings_decimal_marks.csv:4:12: reading_percent: expected a number, found "1.234,5" (write no mark between thousands)
readings_decimal_marks.csv:4:24: y_m: "1.000" may be 1 or 1000 (write one decimal more, or no mark between thousands)
readings_decimal_marks.csv:5:15: x_m: expected a number, found "1 234,5 m" (write no mark between thousands)
)"},
    {"readings_empty",
     R"(readings_empty.csv:1:1: the file is empty
)"},
    {"readings_fields",
     R"(readings_fields.csv:2:1: the header has 3 fields, this row 2 (an empty field still has its comma)
readings_fields.csv:3:17: the header has 3 fields, this row 5 (text with a comma takes quotation marks, and so do decimals with one)
readings_fields.csv:4:11: the fields are separated two ways: by commas, and here by a semicolon (the header has 3 fields, this row 1)
readings_fields.csv:5:1: the header has 3 fields, this row 1 (an empty field still has its comma)
readings_fields.csv:6:13: reading_percent: expected a number, found "x"
readings_fields.csv:7:17: the header has 3 fields, this row 4 (text with a comma takes quotation marks, and so do decimals with one)
)"},
    {"readings_header",
     R"(readings_header.csv:1:1: missing column 'y_m' (x_m, y_m, storey, height_m go together)
readings_header.csv:1:1: missing column 'storey' (x_m, y_m, storey, height_m go together)
readings_header.csv:1:1: missing column 'height_m' (x_m, y_m, storey, height_m go together)
readings_header.csv:1:20: duplicate column 'hub' (it is column 3 already)
readings_header.csv:1:24: a column without a name (known are: device, hub, via, reading_percent, level_dbm, doors, taken, x_m, y_m, storey, height_m, note)
readings_header.csv:1:31: unknown column 'reading_prcent' (did you mean 'reading_percent'?)
readings_header.csv:2:20: reading_percent: expected a number, found "x"
)"},
    {"readings_many",
     R"(readings_many.csv:2:1: unknown device 'hall moton' (did you mean 'hall smoke'?)
readings_many.csv:3:13: unknown hub 'hob' (did you mean 'hub'?)
readings_many.csv:4:13: unknown hub 'landing repeater' (it is a repeater: name it under via)
readings_many.csv:5:1: unknown device 'hub' (it is a hub)
readings_many.csv:6:18: reading_percent: 140 is outside 0..100
readings_many.csv:6:23: doors: expected one of armed, open, found "shut"
readings_many.csv:7:19: level_dbm: 70 is outside -150..10 (did you mean -70, in dBm?)
readings_many.csv:8:1: device: expected a name, found nothing
readings_many.csv:10:19: level_dbm: stands beside reading_percent (give only one of reading_percent, level_dbm)
readings_many.csv:11:16: reading_percent: expected a percentage, found "-70" (a level in dBm stands under level_dbm)
readings_many.csv:12:16: reading_percent: expected a percentage, found "-70 dBm" (a level in dBm stands under level_dbm)
readings_many.csv:13:17: level_dbm: expected a level in dBm, found "35%" (a percentage stands under reading_percent)
readings_many.csv:14:16: reading_percent: expected a finite number, found "nan"
readings_many.csv:15:1: unknown device 'drive' (it is an area; readings are of devices)
readings_many.csv:15:11: reading_percent: expected a number, found "strong"
)"},
    {"readings_mistyped_header",
     R"(readings_mistyped_header.csv:1:1: unknown column 'devise' (did you mean 'device'?)
readings_mistyped_header.csv:1:24: unknown column 'heigth_m' (did you mean 'height_m'?)
readings_mistyped_header.csv:2:1: unknown device 'loft smok' (did you mean 'loft smoke'?)
readings_mistyped_header.csv:3:15: 'loft smoke' at 9.00 m is above the ceiling (2.40 m) of 'living room' in storey 'upper' (no storey holds that height)
)"},
    {"readings_name_slips",
     R"(readings_name_slips.csv:2:1: device: a name takes no blank at its ends: "loft smoke "
readings_name_slips.csv:3:1: device: expected a name, found nothing
readings_name_slips.csv:4:1: device: a name takes no control characters: "loft\x0Asmoke"
readings_name_slips.csv:7:10: text after the closing quotation mark of a field (the field begins on line 6: is its mark closed there?)
)"},
    {"readings_no_device",
     R"(readings_no_device.csv:1:1: missing column 'device'
readings_no_device.csv:2:1: unknown hub 'hob' (did you mean 'hub'?)
)"},
    {"readings_no_header",
     R"(readings_no_header.csv:1:1: the first row names none of the columns device, reading_percent, level_dbm (it is the header; known columns are: device, hub, via, reading_percent, level_dbm, doors, taken, x_m, y_m, storey, height_m, note)
)"},
    {"readings_nothing",
     R"(readings_nothing.csv:1:1: the file holds no readings
)"},
    {"readings_only_header",
     R"(readings_only_header.csv:1:1: the file holds a header and no readings
)"},
    {"readings_place",
     R"(readings_place.csv:2:19: storey: expected a value, found nothing (x_m, y_m, storey and height_m are filled all or none)
readings_place.csv:2:20: height_m: expected a value, found nothing (x_m, y_m, storey and height_m are filled all or none)
readings_place.csv:3:19: unknown storey 'uper' (did you mean 'upper'?)
readings_place.csv:5:15: x_m: 9050 is outside -2000..2000 (did you mean 90.5 or 9.05, in metres?)
readings_place.csv:6:25: 'loft smoke' at 24.00 m is above the ceiling (2.40 m) of 'living room' in storey 'upper' (no storey holds that height)
readings_place.csv:7:25: height_m: 240 is outside -1..100 (did you mean 2.4 or 0.24, in metres?)
readings_place.csv:8:27: 'loft smoke' stands 40.00 m above the site's zero, outside every storey: they reach from 0.00 m to 5.25 m (height_m counts from the floor of its storey)
)"},
    {"readings_quotes",
     R"(readings_quotes.csv:2:16: a quotation mark stands inside a field that does not begin with one (put the whole field in quotation marks, and write each mark inside twice)
readings_quotes.csv:3:19: text after the closing quotation mark of a field (write a quotation mark inside a field twice)
readings_quotes.csv:4:12: reading_percent: expected a number, found "3x" (did you mean 3? the unit stands in the key)
readings_quotes.csv:4:18: a quotation mark stands inside a field that does not begin with one (put the whole field in quotation marks, and write each mark inside twice)
readings_quotes.csv:5:1: unknown device 'loft smok' (did you mean 'loft smoke'?)
readings_quotes.csv:6:6: text after the closing quotation mark of a field (the field begins on line 5: is its mark closed there?)
readings_quotes.csv:7:15: this quotation mark has no partner
readings_quotes.csv:8:13: reading_percent: expected a number, found "37x" (did you mean 37? the unit stands in the key)
)"},
    {"readings_repeaters",
     R"(readings_repeaters.csv:3:15: unknown repeater 'landing repeatr' (did you mean 'landing repeater'?)
readings_repeaters.csv:4:15: unknown repeater 'hub' (it is a hub)
readings_repeaters.csv:5:21: via: 'landing repeater' cannot be enrolled at itself
readings_repeaters.csv:6:15: unknown repeater 'hall smoke' (it is a device)
)"},
    {"readings_semicolons",
     R"(readings_semicolons.csv:3:1: unknown device 'loft smok' (did you mean 'loft smoke'?)
readings_semicolons.csv:4:16: reading_percent: 140 is outside 0..100
readings_semicolons.csv:5:1: the header has 4 fields, this row 3 (an empty field still has its semicolon)
readings_semicolons.csv:6:24: the header has 4 fields, this row 5 (text with a semicolon takes quotation marks)
readings_semicolons.csv:7:16: reading_percent: expected a percentage, found "-61 dBm" (a level in dBm stands under level_dbm)
)"},
    {"readings_separator_line",
     R"(readings_separator_line.csv:2:7: the fields are separated two ways: by semicolons, and here by a comma (one file takes one separator)
)"},
    {"readings_separator_unknown",
     R"(readings_separator_unknown.csv:1:5: the fields are said to be separated by '|' (a comma, a semicolon or a tab separates them)
readings_separator_unknown.csv:3:1: unknown device 'loft smok' (did you mean 'loft smoke'?)
)"},
    {"readings_spreadsheet",
     R"(readings_spreadsheet.csv:4:20: a value in a column without a name (name its column in the header, or take it out)
readings_spreadsheet.csv:5:17: a value in a column without a name (name its column in the header, or take it out)
readings_spreadsheet.csv:9:1: unknown device '=1+1'
readings_spreadsheet.csv:9:13: reading_percent: expected a percentage, found "−61 dBm" (a level in dBm stands under level_dbm)
)"},
    {"readings_taken",
     R"(readings_taken.csv:2:15: taken: expected a date, a time or both, found "2026-02-29" (write 2026-03-01, 2026-03-01 14:05 or 14:05)
readings_taken.csv:3:15: taken: expected a date, a time or both, found "1.3.2026" (did you mean 2026-03-01?)
readings_taken.csv:4:15: taken: expected a date, a time or both, found "03/01/2026" (write 2026-03-01, 2026-03-01 14:05 or 14:05)
readings_taken.csv:5:15: taken: expected a date, a time or both, found "24:00" (write 2026-03-01, 2026-03-01 14:05 or 14:05)
readings_taken.csv:6:15: taken: expected a date, a time or both, found "after lunch" (write 2026-03-01, 2026-03-01 14:05 or 14:05)
)"},
    {"readings_tabs",
     R"(readings_tabs.csv:2:15: level_dbm: stands beside reading_percent (give only one of reading_percent, level_dbm)
readings_tabs.csv:3:13: level_dbm: expected a level in dBm, found "35 %" (a percentage stands under reading_percent)
readings_tabs.csv:4:1: the header has 3 fields, this row 2 (an empty field still has its tab)
)"},
    {"readings_two_ways",
     R"(readings_two_ways.csv:2:11: the fields are separated two ways: by semicolons, and here by a comma (the header has 3 fields, this row 1)
readings_two_ways.csv:4:11: the fields are separated two ways: by semicolons, and here by a tab (the header has 3 fields, this row 1)
readings_two_ways.csv:5:11: the fields are separated two ways: by semicolons, and here by a comma (the header has 3 fields, this row 2)
)"},
    {"readings_two_ways_header",
     R"(readings_two_ways_header.csv:1:7: the fields are separated two ways: by commas, and here by a semicolon (one file takes one separator)
)"},
    {"readings_unread",
     R"(readings_unread.csv:1:1: no reading is filled in yet
)"},
    {"readings_utf16",
     R"(readings_utf16.csv:2:1: unknown device 'loft smok' (did you mean 'loft smoke'?)
readings_utf16.csv:3:1: unknown device 'häll'
readings_utf16.csv:3:6: reading_percent: 140 is outside 0..100
)"},
    {"readings_utf16_half",
     R"(readings_utf16_half.csv:2:8: not UTF-16 text at byte offset 64 (save the file as UTF-8)
)"},
};

}  // namespace

TEST_CASE("every readings file of the corpus gives exactly its faults") {
  for (const auto& [name, lines] : kExpected) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    CHECK(faults_of(name) == lines);
  }
}

TEST_CASE("the corpus holds no readings file that nobody looks at") {
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(LINKMARGIN_TEST_DATA "/faults")) {
    if (entry.path().extension() != ".csv") continue;
    ++files;
    CAPTURE(entry.path());
    CHECK(kExpected.count(entry.path().stem().string()) == 1);
  }
  CHECK(files == kExpected.size());
}
