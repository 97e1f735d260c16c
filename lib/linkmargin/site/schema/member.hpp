#pragma once

#include "linkmargin/base/enum_name.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/site/schema/field.hpp"

#include <algorithm>
#include <iterator>
#include <type_traits>
#include <utility>

/// Kinds of fields made from pointers to members: number<&Hub::place, &Placement::height_m>(range). Not
/// installed.
namespace linkmargin::schema {

template <auto First, auto... Rest>
constexpr auto& member(auto& noun) {
  if constexpr (sizeof...(Rest) == 0) {
    return noun.*First;
  } else {
    return member<Rest...>(noun.*First);
  }
}

template <typename Pointer>
struct ClassOf;
template <typename Class, typename Value>
struct ClassOf<Value Class::*> {
  using Type = Class;
};

template <auto First, auto...>
struct FirstClass {
  using Type = typename ClassOf<decltype(First)>::Type;
};

/// The class whose member the first pointer is.
template <auto... Path>
using Holder = typename FirstClass<Path...>::Type;

inline double plain(double value) {
  return value;
}
inline double plain(Dbm value) {
  return value.value;
}

inline std::optional<double> stated(const auto& value) {
  if constexpr (requires { value.has_value(); }) {
    return value ? std::optional<double>(plain(*value)) : std::nullopt;
  } else {
    return plain(value);
  }
}

/// Of a number, a level, a count, or an optional one of these.
template <auto... Path>
constexpr Number<Holder<Path...>> number(const Range& range) {
  using Of = Holder<Path...>;
  using Value = std::remove_cvref_t<decltype(member<Path...>(std::declval<Of&>()))>;
  constexpr bool whole = std::is_same_v<Value, int> || std::is_same_v<Value, std::optional<int>>;
  return {&range, [](const Of& noun) { return stated(member<Path...>(noun)); },
          [](Of& noun, double value) {
            if constexpr (whole) {
              member<Path...>(noun) = static_cast<int>(value);
            } else if constexpr (std::is_same_v<Value, Dbm>) {
              member<Path...>(noun) = Dbm{value};
            } else {
              member<Path...>(noun) = value;
            }
          },
          whole};
}

/// The same in megahertz, of a member in hertz.
template <auto... Path>
constexpr Number<Holder<Path...>> megahertz(const Range& range) {
  using Of = Holder<Path...>;
  return {&range, [](const Of& noun) { return std::optional(mhz_from_hz(member<Path...>(noun))); },
          [](Of& noun, double mhz) { member<Path...>(noun) = hz_from_mhz(mhz); }};
}

template <auto... Path>
constexpr Switch<Holder<Path...>> on_or_off() {
  using Of = Holder<Path...>;
  return {[](const Of& noun) { return member<Path...>(noun); },
          [](Of& noun, bool on) { member<Path...>(noun) = on; }};
}

template <const auto& Words, auto... Path>
constexpr Word<Holder<Path...>> word() {
  using Of = Holder<Path...>;
  return {[] {
            std::vector<std::string> texts;
            for (const auto& word : Words) texts.emplace_back(word.word);
            return texts;
          },
          [](const Of& noun) {
            const auto found = std::ranges::find_if(
                Words, [&](const auto& word) { return word.meaning == member<Path...>(noun); });
            return static_cast<std::size_t>(found - std::begin(Words));
          },
          [](Of& noun, std::size_t position) { member<Path...>(noun) = Words[position].meaning; }};
}

template <auto... Path>
constexpr OwnName<Holder<Path...>> own_name() {
  return {[](const Holder<Path...>& noun) { return member<Path...>(noun); },
          [](Holder<Path...>& noun, const std::string& name) { member<Path...>(noun) = name; }};
}

/// Of a text, or an optional one.
template <auto... Path>
constexpr Name<Holder<Path...>> name() {
  using Of = Holder<Path...>;
  return {[](const Of& noun) {
            const auto& text = member<Path...>(noun);
            if constexpr (requires { text.has_value(); }) {
              return text.value_or("");
            } else {
              return text;
            }
          },
          [](Of& noun, const std::string& text) { member<Path...>(noun) = text; }};
}

template <auto... Path>
constexpr Text<Holder<Path...>> text() {
  return {[](Holder<Path...>& noun, const std::string& text) { member<Path...>(noun) = text; }};
}

template <auto... Path>
constexpr Point<Holder<Path...>> point() {
  using Of = Holder<Path...>;
  return {[](const Of& noun) { return member<Path...>(noun); },
          [](Of& noun, Point2 at) { member<Path...>(noun) = at; }};
}

template <auto... Path>
constexpr StoreyName<Holder<Path...>> storey() {
  return {[](Holder<Path...>& noun, std::size_t position) { member<Path...>(noun) = position; }};
}

template <auto... Path>
constexpr Rectangle<Holder<Path...>> rectangle_of(const Range& side) {
  return {&side, [](const Holder<Path...>& noun) -> const Polygon2& { return member<Path...>(noun); },
          [](Holder<Path...>& noun, Polygon2 corners) { member<Path...>(noun) = std::move(corners); }};
}

template <auto... Path>
constexpr Corners<Holder<Path...>> corners_of(const Range& side) {
  return {&side, [](Holder<Path...>& noun, Polygon2 corners) { member<Path...>(noun) = std::move(corners); },
          [](const Holder<Path...>& noun) { return !member<Path...>(noun).empty(); }};
}

template <auto... Path>
constexpr MadeOf<Holder<Path...>> made_of() {
  return {[](const Holder<Path...>& noun) {
            const std::optional<Construction> made = member<Path...>(noun);
            return made && !made->material.empty() ? made : std::nullopt;
          },
          [](Holder<Path...>& noun, Construction made) { member<Path...>(noun) = std::move(made); }};
}

}  // namespace linkmargin::schema
