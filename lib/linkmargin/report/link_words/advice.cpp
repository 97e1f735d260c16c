#include "linkmargin/report/link_words/advice.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/prediction/reach.hpp"
#include "linkmargin/report/link_words/cause_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/words/remedy_words.hpp"
#include "linkmargin/site/site_radios.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

template <typename Named>
const Named* find_named(const std::vector<Named>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return found == all.end() ? nullptr : &*found;
}

class Adviser {
 public:
  Adviser(const Wording& wording, const Site& site, const LinkTable& table, const Link& link,
          const ReadingAnswer* read)
      : wording_(wording),
        site_(site),
        table_(table),
        link_(link),
        read_(read),
        device_(find_named(site.devices, link.device)),
        hub_{"hub", wording.hub(site, link.heard_by())} {
    if (device_ == nullptr) return;
    const auto profile = site.profiles.find(device_->profile);
    if (profile != site.profiles.end()) profile_ = &profile->second;
  }

  Advice take() {
    const bool sure = link_.outcome == Outcome::good;
    if (read_ != nullptr && read_->verdict == ReadingVerdict::low) {
      note("advice.low_reading");
    } else if (read_ != nullptr && read_->enough()) {
      note("advice.reading_enough");
    } else if (sure && read_ == nullptr) {
      note("advice.needs_nothing");
    } else {
      advice_.steps = mounting_words(wording_, site_, link_);
      other_hub();
      device_place();
      known_repeaters();
      hub_place();
      step("advice.buy");
    }
    return std::move(advice_);
  }

 private:
  void step(std::string_view key, Language::Places places = {}) {
    advice_.steps.push_back(wording_.say(key, places));
  }
  void note(std::string_view key, Language::Places places = {}) {
    advice_.notes.push_back(wording_.say(key, places));
  }

  bool ruled() const { return profile_ != nullptr && profile_->fixed_by_rule; }
  double missing_db() const { return link_.shortfall(table_.reading).value; }

  void other_hub() {
    const Link* best = nullptr;
    for (const Link& other : table_.links) {
      if (other.device != link_.device || other.hub == link_.hub || other.onward) continue;
      if (other.weaker().margin <= link_.weaker().margin) continue;
      if (best == nullptr || other.weaker().margin > best->weaker().margin) best = &other;
    }
    if (best == nullptr) return;
    const double percent = best->lower().reading_percent;
    step("advice.other_hub", {{"hub", wording_.say("hub.named", {{"hub", wording_.name(best->hub)}})},
                              {"percent", wording_.percent(percent, table_.reading.weak_below_percent)}});
  }

  void device_place() {
    if (ruled()) {
      note(read_ == nullptr ? "advice.ruled" : "advice.ruled_but_shift",
           {{"profile", wording_.name(device_->profile)}});
      return;
    }
    const auto reach = device_ == nullptr ? std::nullopt : reach_m(device_->may_move);
    if (!reach || *reach <= 0) {
      note("advice.device_stays");
      return;
    }
    const Language::Place within{"reach", reach_phrase(wording_, *device_->may_move)};
    const bool may_do = missing_db() <= kShiftDb;
    if (read_ == nullptr && may_do) shift(within);
    if (*reach > kCentimetresM) {
      another_place(within);
    } else if (read_ == nullptr && !may_do) {
      note("advice.too_far_short", {within, {"missing", wording_.with_unit(missing_db(), 0, "dB")}});
    }
  }

  void shift(const Language::Place& within) {
    const Language::Place quarter{"quarter", wording_.length(wavelength_m(table_.frequency_hz) / 4)};
    if (link_.weak) {
      step("advice.shift_weak", {within, quarter, {"missing", wording_.decibels(missing_db())}});
    } else {
      step("advice.shift", {within, quarter});
    }
  }

  void another_place(const Language::Place& within) {
    const LossItem* biggest = biggest_obstacle(link_.loss);
    if (distance_outweighs(link_.loss)) {
      step("advice.nearer", {within, hub_});
    } else if (biggest != nullptr && biggest->loss_db >= 1) {
      step(biggest->incidence_deg >= kObliqueDeg ? "advice.past_or_squarely" : "advice.past",
           {within,
            hub_,
            {"thing", thing_words(wording_, *biggest)},
            {"gain", wording_.with_unit(biggest->loss_db, 0, "dB")}});
    } else {
      step("advice.another_place", {within});
    }
  }

  /// Those by which its chance would be greater.
  void known_repeaters() {
    std::vector<std::string> spare;
    for (const Link& other : table_.links) {
      if (other.device != link_.device || !other.onward || other.via == link_.via) continue;
      if (other.pass_probability > link_.pass_probability) spare.push_back(other.heard_by());
    }
    constexpr std::size_t few = 3;
    if (!spare.empty())
      advice_.steps.push_back(
          wording_.counted("advice.known_repeater", spare.size(), {{"names", wording_.names(spare, few)}}));
  }

  void hub_place() {
    const Hub* hub = find_named(site_.hubs, link_.heard_by());
    const Repeater* repeater = find_named(site_.repeaters, link_.heard_by());
    const auto may_move = hub != nullptr        ? mobility(site_, *hub)
                          : repeater != nullptr ? mobility(*repeater)
                                                : std::nullopt;
    const auto reach = reach_m(may_move);
    if (!reach || *reach <= 0) {
      note("advice.hub_stays", {hub_});
    } else {
      step("advice.hub", {hub_, {"reach", reach_phrase(wording_, *may_move)}});
    }
  }

  const Wording& wording_;
  const Site& site_;
  const LinkTable& table_;
  const Link& link_;
  const ReadingAnswer* read_;
  const Device* device_;
  const Language::Place hub_;
  const Profile* profile_ = nullptr;
  Advice advice_;
};

}  // namespace

Advice advice(const Wording& wording, const Site& site, const LinkTable& table, const Link& link,
              const ReadingAnswer* read) {
  return Adviser(wording, site, table, link, read).take();
}

}  // namespace linkmargin
