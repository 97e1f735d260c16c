#pragma once

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/reading.hpp"

#include "readings_fixture.hpp"
#include "utf16_bytes.hpp"

#include <algorithm>
#include <string>
#include <vector>

/// How a spreadsheet writes readings.
struct Writing {
  char separator = ',';
  char decimal = '.';
  std::string line_end = "\n";
  bool quotes = false;  ///< round every field
  bool units = false;   ///< with a no-break space, and the minus sign of typesetting
  bool wraps = false;   ///< numbers are kept as text
  bool extras = false;  ///< a line that tells the separator, an odd header, empty columns and rows
};

inline std::string written_number(std::string text, bool percent, const Writing& writing) {
  std::ranges::replace(text, '.', writing.decimal);
  if (writing.units) {
    if (text.starts_with('-')) text = "\u2212" + text.substr(1);
    text += percent ? "\u00A0%" : "\u00A0dBm";
  }
  return writing.wraps ? "=\"" + text + "\"" : text;
}

inline std::string written_field(std::string text, const Writing& writing) {
  const bool needs = writing.quotes || text.find_first_of(",;\t\"") != std::string::npos;
  if (!needs) return text;
  std::string field = "\"";
  for (const char letter : text) field += letter == '"' ? "\"\"" : std::string(1, letter);
  return field + "\"";
}

/// A file of readings of the demo site.
inline std::string written(const std::vector<linkmargin::Reading>& readings, const Writing& writing) {
  std::string text;
  const std::string empty = writing.extras ? std::string(3, writing.separator) : "";
  if (writing.extras) text += std::string("sep=") + writing.separator + writing.line_end;
  const auto add_row = [&](const std::vector<std::string>& fields) {
    for (std::size_t i = 0; i < fields.size(); ++i) {
      if (i > 0) text += writing.separator;
      text += written_field(fields[i], writing);
    }
    text += empty + writing.line_end;
  };
  add_row({writing.extras ? " Device\u00A0" : "device", "hub",
           writing.extras ? "READING_PERCENT" : "reading_percent", "level_dbm", "doors", "x_m", "y_m",
           "storey", "height_m", "note"});
  for (const linkmargin::Reading& reading : readings) {
    const auto metres = [&](auto value) {
      if (!reading.place) return std::string();
      std::string number = linkmargin::shortest_text(value(*reading.place));
      std::ranges::replace(number, '.', writing.decimal);
      return number;
    };
    add_row(
        {reading.device, reading.hub.value_or(""),
         reading.percent ? written_number(linkmargin::shortest_text(*reading.percent), true, writing) : "",
         reading.level ? written_number(linkmargin::shortest_text(reading.level->value), false, writing) : "",
         !reading.doors_open ? "" : (*reading.doors_open ? "open" : "armed"),
         metres([](const linkmargin::Placement& place) { return place.at.x; }),
         metres([](const linkmargin::Placement& place) { return place.at.y; }),
         reading.place ? pottery().storeys[reading.place->storey].name : "",
         metres([](const linkmargin::Placement& place) { return place.height_m; }), reading.note});
  }
  if (writing.extras) text += std::string(30, writing.separator) + writing.line_end + writing.line_end;
  return text;
}

/// Only for characters of up to 3 bytes.
inline std::u16string wide(const std::string& text) {
  std::u16string units;
  for (std::size_t i = 0; i < text.size();) {
    const auto byte = [&](std::size_t k) {
      return static_cast<unsigned>(static_cast<unsigned char>(text[i + k]));
    };
    const std::size_t length = byte(0) < 0x80 ? 1 : byte(0) < 0xE0 ? 2 : 3;
    const unsigned unit = length == 1 ? byte(0)
                          : length == 2
                              ? (byte(0) & 0x1FU) << 6U | (byte(1) & 0x3FU)
                              : (byte(0) & 0x0FU) << 12U | (byte(1) & 0x3FU) << 6U | (byte(2) & 0x3FU);
    units += static_cast<char16_t>(unit);
    i += length;
  }
  return units;
}
