#include "linkmargin/exchange/tracing/room_names.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/text/blanks.hpp"
#include "linkmargin/text/name_flaw.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>

namespace linkmargin::exchange {
namespace {

/// The kind of an opening, or a number, must find room behind it.
constexpr std::size_t kMostBytes = kMaxNameBytes - 20;

bool is_digit(char letter) {
  return letter >= '0' && letter <= '9';
}
bool is_letter(char letter) {
  return (lower_case(letter) >= 'a' && lower_case(letter) <= 'z') ||
         static_cast<unsigned char>(letter) >= 0x80;
}

/// "12.5 m2", "A = 12.5 qm", "h=2.50"
bool is_measure(std::string_view line) {
  const std::string low = lower_case(line);
  if (!std::ranges::any_of(low, is_digit)) return false;
  for (const std::string_view unit : {"m2", "m\xC2\xB2", "qm", "sqm", "sq m", "sq.", "ft2", "ft\xC2\xB2"}) {
    if (low.find(unit) != std::string::npos) return true;
  }
  return low.find('=') != std::string::npos || std::ranges::count_if(low, is_letter) < 2;
}

std::string without_repeated_blanks(std::string_view line) {
  std::string text;
  for (std::size_t i = 0; i < line.size();) {
    const std::size_t blank = blank_at(line, i);
    if (blank == 0) {
      text += line[i++];
    } else {
      if (!text.empty() && text.back() != ' ') text += ' ';
      i += blank;
    }
  }
  if (text.ends_with(' ')) text.pop_back();
  return text;
}

std::string cut(std::string text) {
  if (text.size() <= kMostBytes) return text;
  std::size_t end = kMostBytes;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  text.resize(end);
  return std::string(trimmed(text));
}

bool better(const NameText& one, const NameText& other) {
  if (one.of_room != other.of_room) return one.of_room;
  return one.height > other.height;
}

}  // namespace

std::string name_in(std::string_view text) {
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    const std::string line = cut(without_repeated_blanks(text.substr(begin, end - begin)));
    const bool letters = std::ranges::count_if(line, is_letter) >= 2;
    if (letters && !is_measure(line) && name_flaw(line, line).empty()) return line;
    begin = end + 1;
  }
  return {};
}

std::string fresh_name(const std::string& name, std::vector<std::string>& taken) {
  std::string fresh = name;
  for (int number = 2; std::ranges::find(taken, fresh) != taken.end(); ++number)
    fresh = name + " " + std::to_string(number);
  taken.push_back(fresh);
  return fresh;
}

RoomNames room_names(const std::vector<Polygon2>& rooms, const std::vector<NameText>& texts) {
  RoomNames result;
  std::vector<std::string> taken{"outside", "house"};  // mean something in a site file
  int unnamed = 0;
  for (const Polygon2& room : rooms) {
    const Box2 box = bounding_box(room);
    std::vector<const NameText*> inside;
    for (const NameText& text : texts) {
      if (box.holds(text.at) && contains(room, text.at) && !name_in(text.text).empty())
        inside.push_back(&text);
    }
    if (inside.empty()) {
      result.names.push_back(fresh_name("room " + std::to_string(++unnamed), taken));
      continue;
    }
    const NameText& best = **std::ranges::min_element(
        inside, [](const NameText* one, const NameText* other) { return better(*one, *other); });
    const std::string name = name_in(best.text);
    std::string all = name;
    for (const NameText* other : inside) {
      const std::string other_name = name_in(other->text);
      const bool alike = other->of_room && best.of_room && other->height > 0.9 * best.height;
      if (alike && other_name != name) all += ", " + other_name;
    }
    if (all != name) result.several_names.push_back(all);
    result.names.push_back(fresh_name(name, taken));
  }
  return result;
}

}  // namespace linkmargin::exchange
