#include "linkmargin/report/coverage_report.hpp"

#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
#include "linkmargin/report/words/coverage_places.hpp"
#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

constexpr std::size_t kNamesMissed = 8;
constexpr std::size_t kRoomsInVerdict = 4;

/// A map in words.
class CoverageTeller {
 public:
  CoverageTeller(const Wording& wording, const Site& site, const CoverageMap& map, CoverageValue value)
      : wording_(wording),
        map_(map),
        value_(value),
        places_(coverage_places(site, map, value)),
        shares_(weak_shares(map, site)),
        threshold_(threshold_text(wording, map)) {}

  Document document() const {
    Document document;
    auto& blocks = document.blocks;
    blocks.emplace_back(
        Paragraph{wording_.say("coverage.title", {{"site", wording_.name(map_.site)},
                                                  {"storey", wording_.name(map_.storey)},
                                                  {"doors", doors_phrase(wording_, map_.doors)}}),
                  Tone::strong});
    blocks.emplace_back(Paragraph{verdict(), shares_.rooms_percent == 0.0 ? Tone::strong : Tone::weak});
    blocks.emplace_back(Paragraph{wording_.say("coverage.next")});
    if (!places_.rooms.empty()) blocks.emplace_back(room_table());
    if (!places_.areas.empty()) blocks.emplace_back(area_table());
    const std::string marks = key_to_marks();
    if (!marks.empty()) blocks.emplace_back(Paragraph{marks, Tone::faint});
    blocks.emplace_back(remarks());
    if (!map_.warnings.empty()) {
      blocks.emplace_back(Heading{wording_.say("notes.site_cautions")});
      BulletList notes;
      for (const std::string& warning : warning_texts(wording_.language(), map_.warnings))
        notes.items.push_back({warning});
      blocks.emplace_back(std::move(notes));
    }
    for (Block& line :
         closing_cautions(wording_, {StandingCaution::reading_decides, StandingCaution::detectors_stay}))
      blocks.push_back(std::move(line));
    return document;
  }

 private:
  std::string verdict() const {
    const Language::Place threshold{"threshold", threshold_};
    if (!shares_.rooms_percent) return wording_.say("coverage.no_room");
    const double percent = *shares_.rooms_percent;
    const Language::Place share{"share", share_text(wording_, percent)};
    if (places_.rooms.empty())
      return wording_.say(percent == 0 ? "coverage.map_fine" : "coverage.map_weak", {threshold, share});
    std::vector<std::string> rooms;
    for (const PlaceCover& room : places_.rooms) {
      if (room.weak_percent > 0)
        rooms.push_back(wording_.say(
            "coverage.room_share",
            {{"room", wording_.name(room.name)}, {"share", share_text(wording_, room.weak_percent)}}));
    }
    if (rooms.empty()) return wording_.say("coverage.rooms_fine", {threshold});
    return wording_.say("coverage.rooms_weak_where",
                        {share, threshold, {"rooms", wording_.listed(rooms, kRoomsInVerdict)}});
  }

  Column share_column(const char* key, const char* title) const {
    return {.key = key, .title = wording_.say(title), .unit = "%", .right_aligned = true};
  }

  /// Weak is what reads under the threshold, whatever value stands beside it.
  Column weak_column() const {
    return share_column("weak_share_percent",
                        value_ == CoverageValue::reading ? "coverage.weak" : "coverage.weak_reading");
  }

  /// A reading is never rounded over the threshold, a chance never to a certainty.
  Cell value_cell(double shown) const {
    if (!std::isfinite(shown)) return {};
    if (value_ == CoverageValue::reading) return {wording_.percent(shown, map_.reading.weak_below_percent)};
    if (value_ == CoverageValue::chance) return {wording_.chance_figure(shown / 100)};
    return {wording_.number(shown, 0)};
  }

  Table room_table() const {
    const auto figures = [&](const char* key, const char* title) {
      return Column{
          .key = key, .title = wording_.say(title), .unit = value_unit(value_), .right_aligned = true};
    };
    const bool loss = value_ == CoverageValue::loss;
    Table table{{{.key = "mark"},
                 {.key = "room", .title = wording_.say("coverage.room"), .shrinks = true},
                 weak_column(),
                 figures("lowest", loss ? "coverage.greatest" : "coverage.lowest"),
                 {.key = "lowest_in", .title = wording_.say("coverage.where"), .drop = 1},
                 figures("median", "coverage.median")},
                {}};
    for (const PlaceCover& room : places_.rooms) {
      const bool weak = room.weak_percent > 0;
      table.rows.push_back({{{weak ? "!" : " "},
                             {room.name},
                             {share_text(wording_, room.weak_percent)},
                             value_cell(room.lowest),
                             {wording_.say("coverage.part." + std::string(room.lowest_in))},
                             value_cell(room.median)},
                            weak ? Tone::weak : Tone::plain});
    }
    return table;
  }

  Table area_table() const {
    Table table{{{.key = "mark"},
                 {.key = "area", .title = wording_.say("coverage.area"), .shrinks = true},
                 weak_column(),
                 share_column("most_weak_percent", "coverage.allowed")},
                {}};
    for (const CoveragePlaces::AreaShare& area : places_.areas) {
      const bool weak = area.weak_percent > area.most_weak_percent;
      table.rows.push_back({{{weak ? "!" : " "},
                             {area.name},
                             {share_text(wording_, area.weak_percent)},
                             {share_text(wording_, area.most_weak_percent)}},
                            weak ? Tone::weak : Tone::plain});
    }
    return table;
  }

  std::string scale_remark() const {
    std::string hint = scale_hint(wording_, map_, value_);
    const auto at_the_end = [](const PlaceCover& room) { return room.lowest == 100; };
    if (hint.empty() && value_ == CoverageValue::reading && !places_.rooms.empty() &&
        std::ranges::all_of(places_.rooms, at_the_end)) {
      hint = wording_.say("coverage.rooms_full");
    }
    return hint.empty() ? hint : hint + " " + wording_.say("coverage.margins");
  }

  /// What the map is of, and what the tables leave open.
  BulletList remarks() const {
    BulletList list;
    const auto say = [&](std::string text) {
      if (!text.empty()) list.items.push_back({.text = std::move(text)});
    };
    say(wording_.say("coverage.basis", {{"value", value_phrase(wording_, map_, value_)},
                                        {"profile", wording_.name(map_.profile)},
                                        {"height", wording_.language().length(map_.height_m)},
                                        {"step", wording_.language().length(map_.step_m)},
                                        {"hubs", hubs_phrase(wording_, map_)}}));
    say(nearby_phrase(wording_, map_, value_));
    if (!places_.missed.empty())
      say(wording_.say("coverage.missed", {{"names", wording_.names(places_.missed, kNamesMissed)}}));
    if (shares_.outside_percent)
      say(wording_.say("coverage.outside", {{"share", share_text(wording_, *shares_.outside_percent)},
                                            {"threshold", threshold_}}));
    if (!places_.areas.empty()) say(wording_.say("coverage.areas"));
    say(scale_remark());
    return list;
  }

  std::string key_to_marks() const {
    if (!places_.areas.empty()) return wording_.say("coverage.marks_areas");
    return places_.rooms.empty() ? std::string() : wording_.say("coverage.marks");
  }

  const Wording& wording_;
  const CoverageMap& map_;
  CoverageValue value_;
  CoveragePlaces places_;
  WeakShares shares_;
  std::string threshold_;
};

}  // namespace

Document coverage_document(const Language& language, const Site& site, const CoverageMap& map,
                           CoverageValue value) {
  const Wording wording(language);
  return CoverageTeller(wording, site, map, value).document();
}

}  // namespace linkmargin
