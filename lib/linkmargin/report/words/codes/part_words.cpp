#include "linkmargin/report/words/codes/part_words.hpp"

#include "linkmargin/base/range.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

namespace linkmargin {
namespace {

template <typename Table, typename Meaning>
std::string key_of(std::string_view section, const Table& table, Meaning meaning) {
  const auto* found = std::ranges::find(table, meaning, &EnumName<Meaning>::meaning);
  return std::string(section) + std::string(found->word);
}

std::string text(const Language& language, const PartName& part, bool quoted);

/// Of two walls the first by the alphabet comes first: neither is before the other in the building.
std::string gap_text(const Language& language, const PartName& part, bool quoted) {
  std::string first = text(language, part.walls[0], quoted);
  std::string second = text(language, part.walls[1], quoted);
  if (second < first) std::swap(first, second);
  return language.say("part.gap", {{"first", first}, {"second", second}});
}

std::string whole_text(const Language& language, const PartName& part, bool quoted) {
  const auto name = [&](const std::string& of) { return quoted ? language.quoted(of) : of; };
  switch (part.kind) {
    case PartKind::none:
      throw DomainError("no part is named");
    case PartKind::own:
      return name(part.first);
    case PartKind::traced_wall:
      return quoted ? language.say("part.traced_wall", {{"first", name(part.first)}}) : part.first;
    case PartKind::gap:
      return gap_text(language, part, quoted);
    default:
      return language.say(key_of("part.", kPartKinds, part.kind),
                          {{"first", name(part.first)}, {"second", name(part.second)}});
  }
}

std::string text(const Language& language, const PartName& part, bool quoted) {
  const std::string whole = whole_text(language, part, quoted);
  if (part.piece == PartPiece::whole) return whole;
  return language.say(key_of("part.", kPartPieces, part.piece), {{"part", whole}});
}

}  // namespace

std::string part_text(const Language& language, const PartName& part) {
  return text(language, part, false);
}

std::string quoted_part_text(const Language& language, const PartName& part) {
  return text(language, part, true);
}

std::string law_text(const Language& language, const DistanceLaw& law) {
  const std::string figure = language.number(law.figure);
  switch (law.code) {
    case DistanceLaw::Code::free_space:
      return language.say("law.free_space");
    case DistanceLaw::Code::free_space_and_constant:
      return language.say("law.free_space_and_constant", {{"constant", figure}});
    case DistanceLaw::Code::exponent:
      return language.say("law.exponent", {{"exponent", figure}});
    case DistanceLaw::Code::site_general:
      return language.say("law.site_general", {{"environment", law.environment}});
    case DistanceLaw::Code::power_loss:
      return language.say("law.power_loss", {{"environment", law.environment}, {"decade", figure}});
  }
  throw DomainError("unknown law of distance");
}

std::string item_text(const Language& language, const LossItem& item) {
  const auto of_part = [&](std::string_view key) {
    return language.say(key, {{"part", part_text(language, item.part)}});
  };
  switch (item.cause) {
    case LossCause::distance: {
      const std::string law = law_text(language, item.law.value());
      if (item.part.kind == PartKind::none) return law;
      return language.say("item.bent_distance", {{"law", law},
                                                 {"length", language.length(item.law->bent_m, 1)},
                                                 {"part", part_text(language, item.part)}});
    }
    case LossCause::edge:
      return of_part("item.edge");
    case LossCause::beside_gap:
      return of_part("item.beside_gap");
    case LossCause::round:
      return of_part("item.round");
    case LossCause::bend:
      return of_part("item.bend");
    case LossCause::ground:
      return language.say("item.ground");
    case LossCause::corner:
      return language.say("item.corner");
    case LossCause::other_ways:
      return language.say("item.other_ways");
    case LossCause::slab_reflection:
      return language.say("item.slab_reflection");
    case LossCause::reverberation:
      return language.say("item.reverberation");
    case LossCause::wall:
    case LossCause::opening:
    case LossCause::floor:
    case LossCause::obstacle:
      return part_text(language, item.part);
  }
  throw DomainError("unknown cause of a loss");
}

}  // namespace linkmargin
