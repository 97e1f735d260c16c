#include "linkmargin/messages/language.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/range.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// A part of a text: what stands as it is, or the name of a place.
struct Part {
  std::string_view text;
  bool place = false;
};

std::vector<Part> parts_of(std::string_view text) {
  std::vector<Part> parts;
  while (!text.empty()) {
    const std::size_t open = text.find('{');
    const std::size_t close = open == text.npos ? text.npos : text.find('}', open);
    if (close == text.npos) {
      parts.push_back({text});
      break;
    }
    if (open > 0) parts.push_back({text.substr(0, open)});
    parts.push_back({text.substr(open + 1, close - open - 1), true});
    text.remove_prefix(close + 1);
  }
  return parts;
}

}  // namespace

std::vector<std::string> places_of(std::string_view text) {
  std::vector<std::string> names;
  for (const Part& part : parts_of(text)) {
    if (part.place) names.emplace_back(part.text);
  }
  return names;
}

std::string Language::filled(const std::string& key, std::span<const Place> places) const {
  const auto text = words_.texts.find(key);
  if (text == words_.texts.end()) throw DomainError("language " + words_.tag + " has no text '" + key + "'");
  std::string said;
  for (const Part& part : parts_of(text->second)) {
    if (!part.place) {
      said += part.text;
      continue;
    }
    const auto place = std::ranges::find(places, part.text, &Place::first);
    if (place == places.end())
      throw DomainError("text '" + key + "' of language " + words_.tag + " has a place {" +
                        std::string(part.text) + "} that nothing goes to");
    said += place->second;
  }
  return said;
}

std::string Language::say(std::string_view key, Places places) const {
  return filled(std::string(key), {places.begin(), places.size()});
}

std::string Language::say(std::string_view key, std::span<const Place> places) const {
  return filled(std::string(key), places);
}

std::string Language::counted(std::string_view key, std::size_t count, Places places) const {
  std::vector<Place> all(places);
  all.emplace_back("count", std::to_string(count));
  return filled(std::string(key) + (count == 1 ? ".one" : ".other"), all);
}

std::string Language::number(double value, int decimals) const {
  return with_mark(fixed_text(value, decimals));
}

std::string Language::number(double value) const {
  return with_mark(shortest_text(value));
}

std::string Language::length(double length_m, int decimals) const {
  if (unit_ == LengthUnit::metre) return number(length_m, decimals) + " m";
  if (decimals > 1) return length(length_m);
  constexpr double near_m = 3 * kMetresAFoot;  // nearer, whole feet are too coarse
  if (decimals == 0 && std::abs(length_m) >= near_m) return fixed_text(length_m / kMetresAFoot, 0) + "'";
  return feet_text(length_m, 1);
}

std::string Language::length(double length_m) const {
  return unit_ == LengthUnit::metre ? number(length_m) + " m" : feet_text(length_m, 2);
}

std::string Language::listed(const std::vector<std::string>& names, std::size_t most) const {
  if (names.size() > most) {
    std::string text;
    for (std::size_t i = 0; i < most; ++i) text += (i > 0 ? ", " : "") + names[i];
    return say("list.more", {{"names", text}, {"count", std::to_string(names.size() - most)}});
  }
  if (names.empty()) return {};
  std::string text;
  for (std::size_t i = 0; i + 1 < names.size(); ++i) text += (i > 0 ? ", " : "") + names[i];
  return names.size() == 1 ? names.front() : say("list.and", {{"names", text}, {"last", names.back()}});
}

std::string Language::quoted(std::string_view name) const {
  return say("list.quoted", {{"name", std::string(name)}});
}

std::string Language::with_mark(std::string number) const {
  const std::size_t point = number.find('.');
  if (point != number.npos) number.replace(point, 1, words_.decimal_mark);
  return number;
}

std::string Language::material(std::string_view name) const {
  const auto own = [&](std::string_view row) {
    const auto found = words_.materials.find(std::string(row));
    return found == words_.materials.end() ? std::string(row) : found->second;
  };
  if (words_.materials.contains(std::string(name))) return own(name);
  const std::size_t unit = name.ends_with(" m") ? name.size() - 2 : name.npos;
  const std::size_t blank = unit == name.npos ? name.npos : name.rfind(' ', unit - 1);
  if (blank == name.npos) return own(name);
  const auto thickness = parse_number(name.substr(blank + 1, unit - blank - 1));
  if (!thickness) return own(name);
  return own(name.substr(0, blank)) + " " + length(*thickness);
}

}  // namespace linkmargin
