#include "linkmargin/report/words/reading_words.hpp"

#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/reading_looks.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/words/spot_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Closer than this to the prediction is as predicted.
constexpr double kSameDb = 2;

/// Closer than this is much as predicted: less than a usual prediction's spread.
constexpr double kMuchSameDb = 5;

/// What lies within the middle half of what was predicted is usual.
constexpr double kUsualProbability = 0.25;

/// Up to so many spots are all tried.
constexpr int kFewSpots = 5;

/// Less than this off its prediction or its neighbours is not worth a figure.
constexpr double kLeastShareDb = 0.5;

class Teller {
 public:
  Teller(const Language& language, const Site& site, const LinkTable& table, const Link& link, const ReadingAnswer& answer)
      : language_(language), table_(table), link_(link), answer_(answer) {
    const auto device = std::ranges::find(site.devices, link.device, &Device::name);
    if (device == site.devices.end()) return;
    device_ = &*device;
    const auto profile = site.profiles.find(device_->profile);
    ruled_ = profile != site.profiles.end() && profile->second.fixed_by_rule;
  }

  ReadingWords take() {
    ReadingWords words{.headline = headline(), .findings = {}, .steps = {}, .looks = {}};
    words.findings.push_back(shares());
    if (!answer_.enough()) words.findings.push_back(chances());
    if (contradicts()) words.findings.push_back(contradiction());
    if (!answer_.enough() && shift_probability() >= kWorthTryingProbability) words.steps = steps();
    const double unusual = answer_.enough() ? kRareProbability : kUnusualProbability;
    if (answer_.as_low_probability < unusual) words.looks = reading_looks(table_, link_, answer_);
    return words;
  }

 private:
  double over_db() const { return answer_.reading.over_predicted.value; }
  double shift_probability() const {
    const SpotTrial* spot = answer_.spots.choice();
    return spot == nullptr || !fades() ? 0 : spot->pass_probability;
  }
  bool fades() const { return answer_.fade.deviation_db > 0; }
  std::string percent_text() const { return shortest_text(answer_.reading.percent) + " %"; }
  std::string threshold_text() const { return shortest_text(table_.reading.weak_below_percent) + " %"; }

  std::string lead() const {
    switch (answer_.verdict) {
      case ReadingVerdict::fine:
        return "Fine: ";
      case ReadingVerdict::better:
        return "Better than predicted: ";
      case ReadingVerdict::low:
        return "Enough, but far lower than predicted, so something is wrong: ";
      case ReadingVerdict::fade:
        return answer_.fade.mean_db <= -kMarkedFadeDb ? "Most likely a fade: " : "A matter of centimetres: ";
      case ReadingVerdict::wall:
        if (!link_.weak || std::abs(over_db()) >= kMuchSameDb) return "The place itself is short: ";
        return std::abs(over_db()) < kSameDb ? "As predicted: " : "Much as predicted: ";
      case ReadingVerdict::unexplained:
        return "Not explained by the plan: ";
    }
    return {};
  }

  std::string headline() const {
    const SpotReading& reading = answer_.reading;
    const bool most = reading.kind == ReadingKind::at_most, least = reading.kind == ReadingKind::at_least;
    const std::string predicted =
        fixed_text(whole_percent(link_.lower().reading_percent, table_.reading.weak_below_percent), 0) + " %";
    std::string text = lead() + percent_text() +
                       (link_.lower_is_downlink() ? " at the device" : " at hub " + quoted_name(link_.hub)) +
                       " is " + with_unit(reading.level.value, 1, "dBm") +
                       (most    ? " at most"
                        : least ? " at least"
                                : "") +
                       ", ";
    if ((most && over_db() > -kSameDb) || (least && over_db() < kSameDb))
      return text + "which fits the " + predicted + " predicted.";
    if (std::abs(over_db()) < kSameDb) return text + "about what this place should give (" + predicted + ").";
    return text + (most || least ? "at least " : "about ") + with_unit(std::abs(over_db()), 0, "dB") +
           (over_db() < 0 ? " below" : " above") + " what this place should give (" + predicted + ").";
  }

  static std::string share(double db, const std::string& over, const std::string& under,
                           const std::string& same) {
    if (std::abs(db) < kLeastShareDb) return same;
    return with_unit(std::abs(db), 0, "dB") + " " + (db < 0 ? under : over);
  }

  /// How place and spot share the difference.
  std::string shares() const {
    const bool high = answer_.as_high_probability < answer_.as_low_probability;
    const double chance = high ? answer_.as_high_probability : answer_.as_low_probability;
    std::string text = chance >= kUsualProbability
                           ? std::string("Where the prediction is right, such a reading is usual. ")
                           : "Where the prediction is right, a reading as " +
                                 std::string(high ? "high" : "low") + " as this has a chance of " +
                                 chance_phrase(chance) + ". ";
    if (!fades())
      return text + "With fading off no spot differs from another: all of the difference is the place's.";
    text += "Place and spot share the difference, most likely so: the place is " +
            share(answer_.shadow.mean_db, "stronger than predicted", "weaker than predicted",
                  "about as predicted") +
            give_or_take(answer_.shadow) + "; the spot lies " +
            share(answer_.fade.mean_db, "above", "below", "about on") + " the mean of the spots about it" +
            give_or_take(answer_.fade) + ".";
    if (!answer_.enough()) return text;
    if (answer_.fade.mean_db >= kMarkedFadeDb)
      text += " It is one of the better spots: fix it exactly there and read again.";
    if (answer_.fade.mean_db <= -kMarkedFadeDb)
      text += " It is one of the poorer spots: some centimetres may lift it further.";
    return text;
  }

  static std::string give_or_take(const FadePosterior::Moments& moments) {
    return " (give or take " + with_unit(moments.deviation_db, 0, "dB") + ")";
  }

  std::string chances() const {
    std::string text = "The place itself, at its average spot, is enough with a chance of " +
                       chance_phrase(answer_.place_probability) + ".";
    const SpotTrial* spot = answer_.spots.choice();
    if (spot == nullptr) return text + " By the site file it may not be shifted.";
    if (!fades()) return text;
    const double chance = spot->pass_probability;
    const bool hopeless = chance < kWorthTryingProbability;
    const std::string which =
        spot->shape == SpotShape::four
            ? "the best of this spot and four about it, " + centimetres_text(spot->distance_m) + " away,"
            : "the best spot within " + centimetres_text(spot->distance_m) +
                  (spot->shape == SpotShape::line ? " along its line" : "");
    text += std::string(" By a shift, ") + (hopeless ? "even " : "") + which + " reaches " +
            threshold_text() + " with a chance of " + (hopeless ? "only " : "") + chance_phrase(chance) + ".";
    if (answer_.verdict == ReadingVerdict::unexplained) {
      return text + " Look for the cause first" + (hopeless ? "." : "; where none is found, try the spots.");
    }
    if (hopeless)
      text += " Shifting will not do.";
    else if (chance < kLikelyProbability)
      text += " Trying costs nothing, but more likely it will not do.";
    return answer_.verdict == ReadingVerdict::wall ? text + in_the_way() : text;
  }

  std::string in_the_way() const {
    const LossItem* biggest = biggest_obstacle(link_.loss);
    if (biggest == nullptr || things_in_the_way(link_.loss) == 0) return {};
    return " What stands in the way costs " + with_unit(obstruction_db(link_.loss), 0, "dB") +
           ", the most of it " + quoted_name(item_text(language_, *biggest)) + " with " +
           with_unit(biggest->loss_db, 0, "dB") + ".";
  }

  Dbm heard_from() const { return link_.lower().sensitivity + link_.lower().noise_rise; }
  bool contradicts() const { return answer_.reading.percent > 0 && answer_.reading.level < heard_from(); }
  std::string contradiction() const {
    return "By the site file the receiver hears nothing under " + with_unit(heard_from().value, 1, "dBm") +
           ", yet it shows a reading: its sensitivity, or the reading scale (zero_dbm, full_dbm), is not as "
           "written.";
  }

  std::vector<std::string> steps() const {
    std::vector<std::string> texts;
    if (ruled_) {
      texts.push_back(
          "First its own rules and instructions: the place of a " + quoted_name(device_->profile) +
          " is ruled by more than radio (fixed_by_rule in its profile). Shift it by centimetres at "
          "most, and only as far as they allow.");
    } else if (device_ != nullptr && !device_->may_move) {
      texts.emplace_back(
          "The site file does not say that it may move (no may_move): shift it only if it may.");
    }
    texts.push_back("Mark where it hangs. " + spots_words(*answer_.spots.choice()));
    texts.emplace_back(
        "At each hold it as it will be fixed, take hand and body away, and wait for a fresh reading with " +
        std::string(table_.doors == Doors::armed ? "everything closed." : "the doors as they stand now."));
    texts.push_back(std::string("Keep the best") +
                    (answer_.spots.choice()->spots > kFewSpots
                         ? " (the first that is well over " + threshold_text() + " will do)"
                         : "") +
                    ", fix it there, and read anew with everything closed.");
    return texts;
  }

  const Language& language_;
  const LinkTable& table_;
  const Link& link_;
  const ReadingAnswer& answer_;
  const Device* device_ = nullptr;
  bool ruled_ = false;
};

}  // namespace

std::string verdict_word(ReadingVerdict verdict) {
  switch (verdict) {
    case ReadingVerdict::fine:
      return "fine";
    case ReadingVerdict::better:
      return "better";
    case ReadingVerdict::low:
      return "low";
    case ReadingVerdict::fade:
      return "fade";
    case ReadingVerdict::wall:
      return "wall";
    case ReadingVerdict::unexplained:
      return "unexplained";
  }
  return {};
}

ReadingWords reading_words(const Language& language, const Site& site, const LinkTable& table, const Link& link,
                           const ReadingAnswer& answer) {
  return Teller(language, site, table, link, answer).take();
}

std::vector<Block> reading_blocks(const ReadingWords& words, const ReadingAnswer& answer) {
  std::vector<Block> blocks;
  const auto list = [&](const std::vector<std::string>& texts, bool numbered) {
    BulletList bullets;
    for (std::size_t index = 0; index < texts.size(); ++index)
      bullets.items.push_back({texts[index], numbered ? std::to_string(index + 1) : "-"});
    blocks.emplace_back(std::move(bullets));
  };
  blocks.emplace_back(Heading{"What the reading of " + shortest_text(answer.reading.percent) + " % says"});
  const bool sound = answer.enough() && answer.verdict != ReadingVerdict::low;
  blocks.emplace_back(Paragraph{words.headline, sound ? Tone::strong : Tone::weak});
  for (const std::string& text : words.findings) blocks.emplace_back(Paragraph{text});
  const auto steps = [&] {
    if (words.steps.empty()) return;
    blocks.emplace_back(Heading{"How to shift it"});
    list(words.steps, true);
  };
  const bool cause_first = answer.verdict == ReadingVerdict::unexplained;
  if (!cause_first) steps();
  if (!words.looks.empty()) {
    blocks.emplace_back(Heading{"Things to look at, not findings"});
    list(words.looks, false);
  }
  if (cause_first) steps();
  return blocks;
}

std::string reading_text(const ReadingWords& words) {
  std::string text = words.headline;
  for (const auto* texts : {&words.findings, &words.steps, &words.looks})
    for (const std::string& one : *texts) text += "\n" + one;
  return text;
}

}  // namespace linkmargin
