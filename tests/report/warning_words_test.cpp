#include "linkmargin/report/words/codes/warning_words.hpp"

#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"

#include "fixtures/english.hpp"
#include "fixtures/parts.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

using namespace linkmargin;
using fixture::english;

namespace {

const Language& german() {
  return built_in_language("de");
}

std::set<std::string> places(const Language& language, const std::string& key) {
  const auto text = language.words().texts.find(key);
  REQUIRE(text != language.words().texts.end());
  CHECK(!text->second.empty());
  const auto names = places_of(text->second);
  return {names.begin(), names.end()};
}

/// That every language has a text, its own where it is none of names alone, with the places of the English
/// one.
void check_words(const std::string& key) {
  for (const std::string& tag : built_in_languages()) {
    CAPTURE(tag);
    CAPTURE(key);
    CHECK(places(built_in_language(tag), key) == places(english(), key));
  }
}

}  // namespace

TEST_CASE("every warning has its words in every language, with the same places, and a code of its own") {
  std::set<std::string_view> codes;
  for (std::size_t i = 0; i < kWarningCodes; ++i) {
    const std::string_view code = code_name(static_cast<WarningCode>(i));
    CHECK(codes.insert(code).second);
    check_words("warning." + std::string(code));
  }
  const auto is_warning = [](const auto& text) { return text.first.starts_with("warning."); };
  CHECK(std::ranges::count_if(english().words().texts, is_warning) == kWarningCodes);
}

TEST_CASE("every kind and piece of a part has its words in every language") {
  for (const auto& [word, kind] : kPartKinds) {
    if (kind == PartKind::none || kind == PartKind::own) continue;  // nothing, or a name as it is
    check_words("part." + std::string(word));
  }
  for (const auto& [word, piece] : kPartPieces) {
    if (piece != PartPiece::whole) check_words("part." + std::string(word));
  }
}

TEST_CASE("parts are said with their names, and with these in marks where a sentence has them") {
  const PartName outer = fixture::outer_wall("shop"), inner = fixture::wall_between("shop", "hall");
  CHECK(part_text(english(), outer) == "outer wall of shop");
  CHECK(part_text(german(), inner) == "Wand zwischen shop und hall");
  CHECK(quoted_part_text(english(), inner) == "wall between 'shop' and 'hall'");
  CHECK(part_text(english(), own_name("free space")) == "free space");
  CHECK(part_text(english(), fixture::traced_wall("fence")) == "fence");
  CHECK(quoted_part_text(english(), fixture::traced_wall("fence")) == "traced wall 'fence'");
  CHECK(part_text(english(), piece_of(fixture::traced_wall("fence"), PartPiece::end)) == "end of fence");
  CHECK(part_text(english(), piece_of(outer, PartPiece::eaves)) == "eaves over outer wall of shop");
  const std::string gap = "gap between outer wall of shop and wall between shop and hall";
  CHECK(part_text(english(), gap_between(outer, inner)) == gap);
  CHECK(part_text(english(), gap_between(inner, outer)) == gap);
}

TEST_CASE("an item of a loss is said by its cause, its part and its law") {
  LossItem item;
  item.cause = LossCause::edge;
  item.part = own_name("hall door");
  CHECK(item_text(english(), item) == "edge of hall door");
  item.cause = LossCause::beside_gap;
  CHECK(item_text(english(), item) == "edge of an opening in hall door");
  item.cause = LossCause::round;
  CHECK(item_text(german(), item) == "Beugung um hall door");
  item.cause = LossCause::distance;
  item.law = DistanceLaw{.code = DistanceLaw::Code::exponent, .figure = 2.4, .bent_m = 12.34};
  CHECK(item_text(english(), item) == "distance, exponent 2.4, 12.3 m through hall door");
  CHECK(item_text(german(), item) == "Entfernung, Exponent 2,4, 12,3 m durch hall door");
  item.part = {};
  item.law = DistanceLaw{.code = DistanceLaw::Code::power_loss, .figure = 28, .environment = "residential"};
  CHECK(item_text(english(), item) == "ITU-R P.1238, residential, N 28");
}

TEST_CASE("every cause of a loss and every term of a budget has its word in every language") {
  for (const Language* language : {&english(), &german()}) {
    const Wording wording(*language);
    for (int cause = 0; cause <= static_cast<int>(LossCause::reverberation); ++cause)
      CHECK_FALSE(cause_word(wording, static_cast<LossCause>(cause)).empty());
    for (int term = 0; term <= static_cast<int>(BudgetTerm::nearby_readings); ++term)
      CHECK_FALSE(term_word(wording, static_cast<BudgetTerm>(term)).empty());
  }
}

TEST_CASE("a warning says its arguments, each in the manner of its kind") {
  CHECK(warning_text(english(),
                     {.code = WarningCode::materials_out_of_band,
                      .arguments = {{"frequency", Figure{868.3}},
                                    {"materials",
                                     std::vector<StatedBand>{{"brick", 1e9, 40e9}, {"door", 2e9, 2e9}}}}}) ==
        "The published figures of these materials are for other frequencies than 868.3 MHz: "
        "brick (1000 to 40000 MHz), door (2000 MHz). Nothing needs doing; readings on site and `linkmargin "
        "calibrate` show what the walls cost here.");
  CHECK(
      warning_text(english(), {.code = WarningCode::layer_alone,
                               .arguments = {{"material", Quoted{"board"}},
                                             {"parts", PartList{{fixture::roof_over("a"), own_name("b")}}}}})
          .starts_with(
              "'board' is a layer for build-ups, and here it is used alone for 'roof over a' and 'b'. "));
  CHECK(warning_text(german(), {.code = WarningCode::hub_hears_nothing,
                                .arguments = {{"under", Figure{3.26, 1}}},
                                .of_device = "gate"})
            .starts_with("gate: Der Pegel an der Zentrale liegt 3,3 dB unter"));
  CHECK(warning_text(english(), {.code = WarningCode::storey_without_floor,
                                 .arguments = {{"storey", Quoted{"upper"}},
                                               {"below", Quoted{"ground"}},
                                               {"key", std::string("floor: {material: none}")}}})
            .ends_with("enter `floor: {material: none}`."));
}
