#include "linkmargin/report/advice.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/phrases.hpp"
#include "linkmargin/report/rounding.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

template <typename Named>
const Named* find_named(const std::vector<Named>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return found == all.end() ? nullptr : &*found;
}

std::string reach_phrase(const Mobility& mobility) {
  if (const auto* radius = std::get_if<Mobility::Radius>(&mobility.reach)) {
    return "within " + shortest_text(radius->radius_m) + " m of its place";
  }
  if (std::holds_alternative<Mobility::Along>(mobility.reach)) return "along its line";
  if (const auto* room = std::get_if<Mobility::WithinRoom>(&mobility.reach)) return "within " + room->room;
  return "within its area";
}

class Adviser {
 public:
  Adviser(const Site& site, const LinkTable& table, const Link& link)
      : site_(site), table_(table), link_(link), device_(find_named(site.devices, link.device)) {}

  std::vector<std::string> take() {
    const bool sure = !link_.weak && link_.pass_probability >= kSureProbability;
    if (sure) return {"Nothing needs moving. Take the reading on site all the same, with everything closed."};
    other_hub();
    if (ruled()) {
      say("Leave the device where it is: the place of a " + quoted_name(device_->profile) +
          " is ruled by more than radio (fixed_by_rule in its profile). What may change is the hub, or what "
          "stands "
          "between.");
    } else {
      if (shortfall_db() <= kShiftDb) shift();
      another_place();
    }
    hub_place();
    say("Only when no place is enough: a repeater on the way, a second hub, or a wire.");
    return std::move(texts_);
  }

 private:
  void say(const std::string& text) { texts_.push_back(text); }

  bool ruled() const {
    if (device_ == nullptr) return false;
    const auto profile = site_.profiles.find(device_->profile);
    return profile != site_.profiles.end() && profile->second.fixed_by_rule;
  }

  /// How far the level is under the threshold; negative when it is over it.
  double shortfall_db() const { return (threshold_level(table_.reading) - link_.weaker().level).value; }

  void other_hub() {
    const Link* best = nullptr;
    for (const Link& other : table_.links) {
      if (other.device != link_.device || other.hub == link_.hub) continue;
      if (other.weaker().margin <= link_.weaker().margin) continue;
      if (best == nullptr || other.weaker().margin > best->weaker().margin) best = &other;
    }
    if (best == nullptr) return;
    const double percent = whole_percent(best->weaker().reading_percent, table_.reading.weak_below_percent);
    say("Hub " + quoted_name(best->hub) + " would hear it better: about " + fixed_text(percent, 0) +
        " %. Enrolling it there costs nothing where a slot is free.");
  }

  void shift() {
    const double quarter_cm = 100 * wavelength_m(table_.frequency_hz) / 4;
    say("Shift it by centimetres first: reflections make the level rise and fall within a quarter of a "
        "wavelength (" +
        with_unit(quarter_cm, 0, "cm") + " at " + shortest_text(mhz_from_hz(table_.frequency_hz)) +
        " MHz). Try four or five spots about that far apart, wait for a fresh reading at each, keep the "
        "best. " +
        (link_.weak ? with_unit(shortfall_db(), 1, "dB") + " are missing, which is within reach of that."
                    : "It also lifts a reading that turns out lower than predicted."));
  }

  void another_place() {
    const LossItem& biggest = biggest_item(link_.loss);
    if (biggest.cause == LossCause::distance) {
      say("A place nearer to the hub: half the distance is commonly worth 6 dB or more.");
    } else if (biggest.loss_db >= 1) {
      const bool oblique = biggest.incidence_deg >= kObliqueDeg;
      say("Another place: one from which the straight line to the hub misses " + quoted_name(biggest.name) +
          (oblique ? ", or meets it less obliquely," : ",") + " is worth up to " +
          with_unit(biggest.loss_db, 0, "dB") + ".");
    }
    if (device_ != nullptr && device_->may_move) {
      say("By the site file it may move " + reach_phrase(*device_->may_move) + ".");
    } else {
      say("The site file does not say that it may move (may_move).");
    }
  }

  void hub_place() {
    const Hub* hub = find_named(site_.hubs, link_.hub);
    std::string text = "Or move hub " + quoted_name(link_.hub);
    if (hub != nullptr && hub->may_move) text += " (it may move " + reach_phrase(*hub->may_move) + ")";
    say(text + ": higher, away from metal, nearer to the weak ones; then check the whole site again.");
  }

  const Site& site_;
  const LinkTable& table_;
  const Link& link_;
  const Device* device_;
  std::vector<std::string> texts_;
};

}  // namespace

std::vector<std::string> advice(const Site& site, const LinkTable& table, const Link& link) {
  return Adviser(site, table, link).take();
}

}  // namespace linkmargin
