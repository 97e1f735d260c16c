#include "linkmargin/report/link_words/reading_words.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/link_words/cause_words.hpp"
#include "linkmargin/report/link_words/reading_looks.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/spot_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// Closer than this to the prediction is as predicted.
constexpr double kSameDb = 2;

/// What lies within the middle half of what was predicted is usual.
constexpr double kUsualProbability = 0.25;

/// Up to so many spots are all tried.
constexpr int kFewSpots = 5;

/// Less than this off its prediction or its neighbours is not worth a figure.
constexpr double kLeastShareDb = 0.5;

/// Whether the device's own rules leave it no spot but its own.
bool stays_put(const Site& site, const Link& link) {
  const auto device = std::ranges::find(site.devices, link.device, &Device::name);
  if (device == site.devices.end()) return false;
  const auto profile = site.profiles.find(device->profile);
  return profile != site.profiles.end() && stays_by_rule(*device, profile->second);
}

class ReadingTeller {
 public:
  ReadingTeller(const Wording& wording, const Site& site, const LinkTable& table, const Link& link,
                const ReadingAnswer& answer)
      : wording_(wording), site_(site), table_(table), link_(link), answer_(answer) {
    const auto device = std::ranges::find(site.devices, link.device, &Device::name);
    if (device == site.devices.end()) return;
    device_ = &*device;
    const auto profile = site.profiles.find(device_->profile);
    ruled_ = profile != site.profiles.end() && profile->second.fixed_by_rule;
    stays_ = stays_put(site, link);
  }

  ReadingWords take() {
    ReadingWords words{.headline = headline(), .findings = {}, .steps = {}, .looks = {}};
    if (answer_.beyond_fading) {
      if (answer_.tried) words.headline = tried_headline();
      words.findings = {joined({answer_.tried ? read_so_far() : chance(), beyond_fading()})};
    } else if (answer_.tried) {
      words.headline = tried_headline();
      const bool explained = answer_.verdict != ReadingVerdict::unexplained;
      words.findings = {joined({read_so_far(), explained ? shares() : std::string()})};
      if (explained && !answer_.tried->reached) words.findings.push_back(going_on());
    } else {
      words.findings = {joined({chance(), shares(), spot_quality()})};
    }
    if (!answer_.tried && !answer_.enough() && !answer_.beyond_fading)
      words.findings.push_back(joined({place_chance(), shift_chance(), hope(), in_the_way()}));
    const auto before = enough_before(link_, table_.reading);
    if (before && !answer_.tried && !answer_.enough())
      words.findings.insert(words.findings.begin(),
                            say("left_out.read_better_before", {{"read", wording_.number(*before, 0)}}));
    if (contradicts())
      words.findings.push_back(say("reading.contradiction", {{"level", level_text(receiver_floor())}}));
    if (!answer_.tried && !answer_.good_place && !answer_.enough() && !answer_.beyond_fading &&
        shift_probability() >= kWorthTryingProbability)
      words.steps = steps();
    const double unusual = answer_.enough() ? kRareProbability : kUnusualProbability;
    if (answer_.as_low_probability < unusual)
      words.looks = reading_looks(wording_, site_, table_, link_, answer_);
    return words;
  }

 private:
  std::string say(std::string_view key, Language::Places places = {}) const {
    return wording_.say(key, places);
  }

  static std::string joined(std::initializer_list<std::string> sentences) {
    std::string text;
    for (const std::string& one : sentences) text += (text.empty() || one.empty() ? "" : " ") + one;
    return text;
  }

  double over_db() const { return answer_.reading.over_predicted.value; }
  bool fades() const { return answer_.fade.deviation_db > 0; }
  const SpotTrial* spot() const { return answer_.spots.choice(); }
  double shift_probability() const { return spot() == nullptr || !fades() ? 0 : spot()->pass_probability; }
  bool hopeless() const { return shift_probability() < kWorthTryingProbability; }
  std::string level_text(Dbm level) const { return wording_.with_unit(level.value, 1, "dBm"); }
  Language::Place whole_db(std::string_view place, double db) const {
    return {place, wording_.with_unit(std::abs(db), 0, "dB")};
  }
  Language::Place threshold() const {
    return {"threshold", wording_.number(table_.reading.weak_below_percent)};
  }

  std::string headline() const {
    const SpotReading& reading = answer_.reading;
    const bool most = reading.kind == ReadingKind::at_most, least = reading.kind == ReadingKind::at_least;
    const bool fits = std::abs(over_db()) < kSameDb || (most && over_db() > 0) || (least && over_db() < 0);
    const std::string key = std::string(fits            ? "same"
                                        : over_db() < 0 ? "lower"
                                                        : "higher") +
                            (!fits && (most || least) ? "_at_least" : "");
    const std::string compared =
        say("reading." + key,
            {{"device", wording_.name(link_.device)},
             {"read", wording_.number(reading.percent)},
             {"percent", wording_.percent(link_.lower().reading_percent, table_.reading.weak_below_percent)},
             whole_db("difference", over_db())});
    const bool centimetres = answer_.verdict == ReadingVerdict::fade && answer_.fade.mean_db > -kMarkedFadeDb;
    return compared + " " +
           (centimetres ? say(stays_ ? "reading.stays.centimetres" : "reading.verdict.centimetres")
                        : reading_verdict_words(wording_, site_, link_, answer_.verdict));
  }

  /// The best of the spots read, and what it comes to.
  std::string tried_headline() const {
    const TriedSpots& tried = *answer_.tried;
    const Language::Place device{"device", wording_.name(link_.device)};
    const Language::Place read{"read", wording_.number(tried.read[tried.best].percent)};
    const Language::Place number{"number", wording_.number(static_cast<double>(tried.best + 1), 0)};
    if (tried.reached)
      return say(tried.best == 0 ? "reading.tried.reached_here" : "reading.tried.reached",
                 {device, read, number});
    const std::string best = say("reading.tried.best", {device, read, number, threshold()});
    const bool cause = answer_.verdict == ReadingVerdict::unexplained;
    if (cause) return best + " " + say("reading.tried.cause");
    if (!tried.goes_on()) return best + " " + say("reading.tried.stop");
    return best + " " + say("reading.tried.go_on", {{"spot", spot_name(wording_, tried.trial, tried.next)}});
  }

  std::string read_so_far() const {
    std::vector<std::string> percents;
    for (const TriedSpot& spot : answer_.tried->read)
      percents.push_back(wording_.number(spot.percent) + " %");
    return say("reading.tried.read", {{"percents", wording_.listed(percents, percents.size())}});
  }

  /// What the spots left may bring, and whether they are worth it.
  std::string going_on() const {
    const TriedSpots& tried = *answer_.tried;
    if (tried.left_m.empty()) return say("reading.tried.none_left");
    const Language::Place next{"next", wording_.chance(tried.next_probability)};
    const Language::Place chance{"chance", wording_.chance(tried.pass_probability)};
    std::string text =
        wording_.counted(tried.wider ? "reading.tried.wider" : "reading.tried.left", tried.left_m.size(),
                         {{"far", wording_.length(tried.trial.distance_m)}, threshold(), next, chance});
    text += " " + say(tried.goes_on() ? "reading.tried.worth" : "reading.tried.not_worth",
                      {{"least", wording_.chance(kSpotCost)}});
    return text;
  }

  std::string chance() const {
    const bool high = answer_.as_high_probability < answer_.as_low_probability;
    const double probability = high ? answer_.as_high_probability : answer_.as_low_probability;
    if (probability >= kUsualProbability) return say("reading.usual");
    return say(high ? "reading.as_high" : "reading.as_low", {{"chance", wording_.chance(probability)}});
  }

  /// How place and spot share the difference.
  std::string shares() const {
    if (!fades()) return say("reading.no_fading");
    const auto share = [&](const std::string& key, const FadePosterior::Moments& part) {
      const bool same = std::abs(part.mean_db) < kLeastShareDb;
      return say("reading." + key +
                     (same               ? "_same"
                      : part.mean_db < 0 ? "_lower"
                                         : "_higher"),
                 {whole_db("by", part.mean_db), whole_db("deviation", part.deviation_db)});
    };
    return share("place", answer_.shadow) + " " + share(answer_.tried ? "first_spot" : "spot", answer_.fade);
  }

  std::string beyond_fading() const {
    return say("reading.beyond_fading", {whole_db("deepest", kDeepestFadeDb)});
  }

  std::string spot_quality() const {
    if (!fades() || !answer_.enough() || ruled_) return {};
    if (answer_.fade.mean_db >= kMarkedFadeDb) return say("reading.good_spot");
    return answer_.fade.mean_db <= -kMarkedFadeDb ? say("reading.poor_spot") : std::string();
  }

  std::string place_chance() const {
    return say("reading.place_chance", {threshold(), {"chance", wording_.chance(answer_.place_probability)}});
  }

  std::string shift_chance() const {
    if (spot() == nullptr && stays_ && answer_.verdict != ReadingVerdict::unexplained)
      return {};  // the headline has said so
    if (spot() == nullptr) return say(ruled_ ? "reading.ruled" : "reading.no_shift");
    if (!fades()) return {};
    const char* key = spot()->shape == SpotShape::four   ? "reading.chance_of_four"
                      : spot()->shape == SpotShape::line ? "reading.chance_along"
                                                         : "reading.chance_within";
    return say(key, {threshold(),
                     {"far", wording_.length(spot()->distance_m)},
                     {"chance", wording_.chance(spot()->pass_probability)}});
  }

  /// What that chance comes to.
  std::string hope() const {
    if (spot() == nullptr || !fades()) return {};
    if (answer_.verdict == ReadingVerdict::unexplained)
      return hopeless() ? std::string() : say("reading.then_spots");
    if (hopeless()) return say("reading.shift_hopeless");
    return spot()->pass_probability < kLikelyProbability ? say("reading.shift_unlikely") : std::string();
  }

  std::string in_the_way() const {
    const LossItem* biggest = biggest_obstacle(link_.loss);
    if (answer_.verdict != ReadingVerdict::wall || biggest == nullptr || things_in_the_way(link_.loss) == 0)
      return {};
    return say("reading.in_the_way", {whole_db("all", obstruction_db(link_.loss)),
                                      {"thing", thing_words(wording_, *biggest)},
                                      whole_db("most", biggest->loss_db)});
  }

  Dbm receiver_floor() const { return link_.lower().sensitivity + link_.lower().noise_rise; }
  bool contradicts() const { return answer_.reading.percent > 0 && answer_.reading.level < receiver_floor(); }

  std::vector<std::string> steps() const {
    std::vector<std::string> texts;
    if (ruled_) {
      texts.push_back(say("reading.step.ruled", {{"profile", wording_.name(device_->profile)}}));
    } else if (device_ != nullptr && !device_->may_move) {
      texts.push_back(say("reading.step.may_it_move"));
    }
    texts.push_back(say("reading.step.mark") + " " + spots_words(wording_, *spot()));
    texts.push_back(
        say(table_.doors == Doors::armed ? "reading.step.hold_closed" : "reading.step.hold_open"));
    texts.push_back(say(spot()->spots > kFewSpots ? "reading.step.keep_first" : "reading.step.keep",
                        {threshold(), {"chance", wording_.chance(spot()->pass_probability)}}));
    return texts;
  }

  const Wording& wording_;
  const Site& site_;
  const LinkTable& table_;
  const Link& link_;
  const ReadingAnswer& answer_;
  const Device* device_ = nullptr;
  bool ruled_ = false;
  bool stays_ = false;  // by rule
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

std::string reading_verdict_words(const Wording& wording, const Site& site, const Link& link,
                                  ReadingVerdict verdict) {
  const bool shift = verdict == ReadingVerdict::fade || verdict == ReadingVerdict::wall;
  return wording.say((shift && stays_put(site, link) ? "reading.stays." : "reading.verdict.") +
                     verdict_word(verdict));
}

ReadingWords reading_words(const Wording& wording, const Site& site, const LinkTable& table, const Link& link,
                           const ReadingAnswer& answer) {
  return ReadingTeller(wording, site, table, link, answer).take();
}

std::vector<Block> reading_blocks(const Wording& wording, const ReadingWords& words,
                                  const ReadingAnswer& answer) {
  std::vector<Block> blocks;
  const auto list = [&](std::string_view title, const std::vector<std::string>& texts, bool numbered) {
    if (texts.empty()) return;
    BulletList bullets;
    for (std::size_t index = 0; index < texts.size(); ++index)
      bullets.items.push_back({texts[index], numbered ? std::to_string(index + 1) + "." : "-"});
    blocks.emplace_back(Heading{wording.say(title)});
    blocks.emplace_back(std::move(bullets));
  };
  const bool sound = answer.enough() && answer.verdict != ReadingVerdict::low;
  blocks.emplace_back(Paragraph{words.headline, sound ? Tone::strong : Tone::weak});
  for (const std::string& text : words.findings) blocks.emplace_back(Paragraph{text});
  const bool cause_first = answer.verdict == ReadingVerdict::unexplained;
  if (!cause_first) list("reading.shift_it", words.steps, true);
  list("reading.check_causes", words.looks, false);
  if (cause_first) list("reading.shift_it", words.steps, true);
  return blocks;
}

std::string reading_text(const ReadingWords& words) {
  std::string text = words.headline;
  for (const auto* texts : {&words.findings, &words.steps, &words.looks})
    for (const std::string& one : *texts) text += "\n" + one;
  return text;
}

}  // namespace linkmargin
