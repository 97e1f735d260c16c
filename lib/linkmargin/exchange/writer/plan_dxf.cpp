#include "linkmargin/exchange/writer/plan_dxf.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/exchange/writer/plan_lines.hpp"
#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/text/display_text.hpp"

#include <array>
#include <cstdio>

namespace linkmargin::exchange {
namespace {

constexpr double kNameHeightM = 0.18;
constexpr double kRadioNameHeightM = 0.12;

/// Metres, as a value of $INSUNITS.
constexpr int kMetres = 6;

std::string coded(std::string_view text) {
  std::string result;
  for (std::size_t position = 0; position < text.size();) {
    const CodePoint letter = decode_utf8(text, position);
    position += letter.bytes;
    if (letter.value >= 0x20 && letter.value < 0x7F) {
      result += static_cast<char>(letter.value);
    } else if (letter.value > 0xFFFF || letter.value < 0x20) {
      result += '?';
    } else {
      std::array<char, 8> code{};
      std::snprintf(code.data(), code.size(), "\\U+%04X", static_cast<unsigned>(letter.value));
      result += code.data();
    }
  }
  return result;
}

class DxfWriter {
 public:
  std::string write(const Site& site, std::size_t storey) {
    group(0, "SECTION");
    group(2, "HEADER");
    group(9, "$INSUNITS");
    group(70, std::to_string(kMetres));
    group(0, "ENDSEC");
    group(0, "SECTION");
    group(2, "ENTITIES");
    for (const PlanLine& line : plan_lines(site.storeys[storey])) plan_line(line);
    for (const Room& room : site.storeys[storey].rooms) {
      polyline("rooms", room.corners, true, 0);
      text("names", label_point(room.corners), kNameHeightM, room.name);
    }
    radios("hubs", site.hubs, storey);
    radios("repeaters", site.repeaters, storey);
    radios("devices", site.devices, storey);
    group(0, "ENDSEC");
    group(0, "EOF");
    return std::move(text_);
  }

 private:
  void group(int code, const std::string& value) {
    const std::string number = std::to_string(code);
    text_.append(3 - std::min<std::size_t>(3, number.size()), ' ').append(number).append("\n");
    text_.append(value).append("\n");
  }
  void number(int code, double value) { group(code, fixed_text(value, 4)); }
  void place(int code, Point2 at) {
    number(code, at.x);
    number(code + 10, at.y);
  }
  void entity(const char* kind, const std::string& layer) {
    group(0, kind);
    group(8, layer);
  }

  void polyline(const std::string& layer, const std::vector<Point2>& points, bool closed, double width) {
    entity("POLYLINE", layer);
    group(66, "1");
    place(10, {0, 0});
    group(70, closed ? "1" : "0");
    number(40, width);
    number(41, width);
    for (const Point2 p : points) {
      entity("VERTEX", layer);
      place(10, p);
    }
    entity("SEQEND", layer);
  }

  void plan_line(const PlanLine& line) {
    switch (line.kind) {
      case PlanLine::Kind::wall:
        polyline("walls", {line.line.a, line.line.b}, false, line.thickness_m);
        return;
      case PlanLine::Kind::door:
        straight("doors", line.line);
        return;
      case PlanLine::Kind::window:
        straight("windows", line.line);
        return;
    }
  }

  void straight(const std::string& layer, Segment2 line) {
    entity("LINE", layer);
    place(10, line.a);
    place(11, line.b);
  }

  void text(const std::string& layer, Point2 at, double height_m, const std::string& words) {
    entity("TEXT", layer);
    place(10, at);
    number(40, height_m);
    group(1, coded(words));
  }

  template <typename Radios>
  void radios(const std::string& layer, const Radios& radios, std::size_t storey) {
    for (const auto& radio : radios) {
      if (radio.place.storey != storey) continue;
      entity("POINT", layer);
      place(10, radio.place.at);
      text(layer, radio.place.at, kRadioNameHeightM, radio.name);
    }
  }

  std::string text_;
};

}  // namespace

std::string plan_dxf(const Site& site, std::size_t storey) {
  return DxfWriter().write(site, storey);
}

}  // namespace linkmargin::exchange
