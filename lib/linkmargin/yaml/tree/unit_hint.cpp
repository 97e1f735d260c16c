#include "linkmargin/yaml/tree/unit_hint.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/yaml/tree/written_quantity.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <vector>

namespace linkmargin::yaml {
namespace {

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

/// "did you mean 6 or 0.6, in metres?" from those candidates that the range takes.
std::string offer(const std::vector<double>& candidates, const Range& range, std::string_view unit) {
  std::string list;
  for (const double candidate : candidates) {
    if (!range.contains(candidate)) continue;
    list += (list.empty() ? "" : " or ") + shortest_text(candidate);
  }
  return list.empty() ? list : "did you mean " + list + ", in " + std::string(unit) + "?";
}

/// Whether something begins like "0x1F" or "0o17".
bool has_other_base(std::string_view written) {
  return written.size() > 2 && written[0] == '0' &&
         (written[1] == 'x' || written[1] == 'X' || written[1] == 'o');
}

std::string other_base_hint(std::string_view written) {
  const int base = written[1] == 'o' ? 8 : 16;
  written.remove_prefix(2);
  unsigned value = 0;
  const auto end = std::from_chars(written.data(), written.data() + written.size(), value, base);
  if (end.ec != std::errc() || end.ptr != written.data() + written.size()) return "write it in decimal";
  return "write it in decimal: " + std::to_string(value);
}

/// Figures alone, behind a sign where one may stand.
bool is_whole(std::string_view text, bool sign) {
  if (sign && text.starts_with('-')) text.remove_prefix(1);
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

/// For what is written like a number, "1e400", and yet is none.
std::string beyond_hint(std::string_view written) {
  double value = 0;
  const auto end = std::from_chars(written.data(), written.data() + written.size(), value);
  const bool beyond = end.ec == std::errc::result_out_of_range && end.ptr == written.data() + written.size();
  return beyond ? "it is too large or too small for any number here" : "";
}

}  // namespace

std::string unit_slip_hint(std::string_view key, double value, const Range& range) {
  if (ends_with(key, "_mhz")) return offer({value / 1e6, value / 1e3, value * 1e3}, range, "MHz");
  if (ends_with(key, "_khz")) return offer({value / 1e3, value * 1e3}, range, "kHz");
  if (ends_with(key, "_m")) return offer({value / 100, value / 1000}, range, "metres");
  if (ends_with(key, "_dbm")) {
    const bool power = ends_with(key, "erp_dbm") || key == "eirp_dbm" || key == "power_dbm";
    if (!power || value <= range.max) return offer({-value}, range, "dBm");
    return offer({std::round(100 * std::log10(value)) / 10}, range, "dBm");
  }
  if (ends_with(key, "_db")) return offer({-value}, range, "dB");
  return {};
}

std::string foot_slip_hint(double length_m, const Range& range) {
  const double inches = length_m / kMetresAFoot;
  if (!range.contains(inches * kMetresAnInch)) return {};
  return "did you mean " + shortest_text(inches) + "in, which is " +
         length_text(inches * kMetresAnInch, LengthUnit::foot) + "?";
}

std::string number_slip_hint(std::string_view key, std::string_view written) {
  if (const auto value = quantity_in(key, written); value && ends_with(key, "_m"))
    return "did you mean " + shortest_text(*value) + "? decimals take a point";
  else if (value)
    return "did you mean " + shortest_text(*value) + "? the unit stands in the key";
  const std::size_t comma = written.find(',');
  if (comma != std::string_view::npos) {
    std::string with_point(written);
    with_point[comma] = '.';
    return parse_number(with_point) ? "did you mean " + with_point + "? decimals take a point"
                                    : std::string();
  }
  const bool plain = written.find_first_not_of("+-.eE0123456789") == std::string_view::npos;
  if (plain) return beyond_hint(written);
  if (has_other_base(written)) return other_base_hint(written);
  const std::size_t end = written.find_first_not_of("+-.0123456789");
  if (end == std::string_view::npos || end == 0 || !parse_number(written.substr(0, end))) return {};
  if (ends_with(key, "_m")) return "a length reads 2.65, 265cm, 8'8\" or 8.7ft";
  return "did you mean " + std::string(written.substr(0, end)) + "? the unit stands in the key";
}

std::string split_decimals_hint(const Node& map, const Entry& stray) {
  const auto place = std::ranges::find(map.entries, stray.key, &Entry::key);
  if (!map.flow || stray.value.kind != Node::Kind::nothing || place == map.entries.begin()) return {};
  const Entry& before = *(place - 1);
  if (before.value.kind != Node::Kind::scalar || !is_whole(before.value.text, true)) return {};
  std::string meant = before.value.text + "." + stray.key;
  const auto value = quantity_in(before.key, meant);  // "2,4 GHz"
  if (value) meant = shortest_text(*value);
  if (!value && !is_whole(stray.key, false)) return {};
  return "did you mean " + before.key + ": " + meant + "? decimals take a point";
}

std::string split_list_hint(const Node& list, std::size_t count) {
  const std::vector<Node>& items = list.items;
  if (items.size() <= count || items.size() > 2 * count) return {};
  std::size_t left = items.size() - count;  // pairs to be joined
  std::string joined;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].kind != Node::Kind::scalar || !parse_number(items[i].text)) return {};
    joined += (joined.empty() ? "" : ", ") + items[i].text;
    const bool pair = left > 0 && i + 1 < items.size() && is_whole(items[i].text, true) &&
                      items[i + 1].kind == Node::Kind::scalar && is_whole(items[i + 1].text, false);
    if (!pair) continue;
    joined += "." + items[++i].text;
    --left;
  }
  if (left > 0) return {};
  const bool all_whole =
      std::ranges::all_of(items, [](const Node& item) { return is_whole(item.text, true); });
  if (all_whole && items.size() < 2 * count) {  // which of them belong together is not to be seen
    const bool decimals = std::ranges::any_of(items, [](const Node& item) {
      return item.text == "0" || (item.text.size() > 1 && item.text[0] != '-');
    });
    return decimals ? "decimals take a point" : "";
  }
  return "did you mean [" + joined + "]? decimals take a point";
}

}  // namespace linkmargin::yaml
