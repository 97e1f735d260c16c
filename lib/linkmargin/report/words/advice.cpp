#include "linkmargin/report/words/advice.hpp"

#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/prediction/reach.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

template <typename Named>
const Named* find_named(const std::vector<Named>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Named& one) { return one.name == name; });
  return found == all.end() ? nullptr : &*found;
}

/// What a link's budget counts for something at the device.
double device_loss_db(const Link& link, BudgetTerm term) {
  const auto item = std::ranges::find(link.uplink.items, term, &BudgetItem::term);
  return item == link.uplink.items.end() ? 0 : -item->value_db;
}

class Adviser {
 public:
  Adviser(const Language& language, const Site& site, const LinkTable& table, const Link& link, const ReadingAnswer* read)
      : language_(language), site_(site), table_(table), link_(link), read_(read), device_(find_named(site.devices, link.device)) {
    if (device_ == nullptr) return;
    const auto profile = site.profiles.find(device_->profile);
    if (profile != site.profiles.end()) profile_ = &profile->second;
  }

  std::vector<std::string> take() {
    if (read_ != nullptr && read_->verdict == ReadingVerdict::low) {
      return {
          "Nothing needs moving for the reading's sake, but go through the list of things to look at before you "
          "leave: what took so much off it may take more. Then read anew, with everything closed."};
    }
    if (read_ != nullptr && read_->enough()) {
      return {
          "Nothing needs moving: what was read is enough. It counts if everything was closed, as when the "
          "system is set."};
    }
    const bool sure = !link_.weak && link_.pass_probability >= kSureProbability;
    if (sure && read_ == nullptr)
      return {"Nothing needs moving. Take the reading on site all the same, with everything closed."};
    place_loss();
    other_hub();
    device_place();
    hub_place();
    bought();
    return std::move(texts_);
  }

 private:
  void say(const std::string& text) { texts_.push_back(text); }

  bool ruled() const { return profile_ != nullptr && profile_->fixed_by_rule; }
  double missing_db() const { return link_.shortfall(table_.reading).value; }

  void place_loss() {
    for (std::string& text : mounting_advice(site_, link_)) say(std::move(text));
  }

  void other_hub() {
    const Link* best = nullptr;
    for (const Link& other : table_.links) {
      if (other.device != link_.device || other.hub == link_.hub) continue;
      if (other.weaker().margin <= link_.weaker().margin) continue;
      if (best == nullptr || other.weaker().margin > best->weaker().margin) best = &other;
    }
    if (best == nullptr) return;
    const double percent = whole_percent(best->lower().reading_percent, table_.reading.weak_below_percent);
    say("Hub " + quoted_name(best->hub) + " would hear it better: about " + fixed_text(percent, 0) +
        " %. Enrolling it there costs nothing where a slot is free.");
  }

  void device_place() {
    if (ruled()) {
      say(std::string(read_ == nullptr ? "Leave" : "Beyond such centimetres leave") +
          " the device where it is: the place of a " + quoted_name(device_->profile) +
          " is ruled by more than radio (fixed_by_rule in its profile). What may change is the hub, or what "
          "stands between.");
      return;
    }
    const auto reach = device_ == nullptr ? std::nullopt : reach_m(device_->may_move);
    if (!reach || *reach <= 0) {
      say("By the site file the device stays where it is (no may_move).");
      return;
    }
    if (read_ == nullptr && missing_db() <= kShiftDb) shift();
    if (*reach > kCentimetresM) {
      another_place();
    } else if (read_ == nullptr && missing_db() > kShiftDb) {
      say("By the site file it moves by centimetres only, " + reach_phrase(*device_->may_move) +
          ", which is commonly worth some decibels, not the " + with_unit(missing_db(), 0, "dB") +
          " that are missing.");
    }
  }

  void shift() {
    const double quarter_cm = 100 * wavelength_m(table_.frequency_hz) / 4;
    say("Shift it by centimetres first, " + reach_phrase(*device_->may_move) +
        ": reflections make the level rise and fall within a quarter of a wavelength (" +
        with_unit(quarter_cm, 0, "cm") + " at " + shortest_text(mhz_from_hz(table_.frequency_hz)) +
        " MHz). Try four or five spots about that far apart, wait for a fresh reading at each, keep the "
        "best. " +
        (link_.weak ? with_unit(missing_db(), 1, "dB") + " are missing, which is within reach of that."
                    : "It also lifts a reading that turns out lower than predicted."));
  }

  void another_place() {
    const LossItem* biggest = biggest_obstacle(link_.loss);
    const std::string where = " It may move " + reach_phrase(*device_->may_move) + ".";
    if (distance_outweighs(link_.loss)) {
      say("A place nearer to the hub: half the distance is commonly worth 6 dB or more." + where);
    } else if (biggest != nullptr && biggest->loss_db >= 1) {
      const bool oblique = biggest->incidence_deg >= kObliqueDeg;
      say("Another place: one from which the straight line to the hub misses " + quoted_name(item_text(language_, *biggest)) +
          (oblique ? ", or meets it less obliquely," : "") + " is worth up to " +
          with_unit(biggest->loss_db, 0, "dB") + "." + where);
    } else {
      say("Another place." + where);
    }
  }

  void hub_place() {
    const Hub* hub = find_named(site_.hubs, link_.hub);
    const auto reach = hub == nullptr ? std::nullopt : reach_m(hub->may_move);
    if (!reach || *reach <= 0) {
      say("The hub " + quoted_name(link_.hub) +
          " stays by the site file (no may_move); if it can move after all, " + "say so there.");
      return;
    }
    say("Or move hub " + quoted_name(link_.hub) + " (it may move " + reach_phrase(*hub->may_move) +
        "): higher, away from metal, nearer to the weak ones; then check the whole site again.");
  }

  void bought() {
    std::vector<std::string> spare;
    for (const Repeater& repeater : site_.repeaters) {
      if (std::ranges::find(link_.via, repeater.name) == link_.via.end())
        spare.push_back(quoted_name(repeater.name));
    }
    constexpr std::size_t few = 3;
    say(spare.empty()
            ? std::string("Only when no place is enough: a repeater on the way, a second hub, or a wire.")
            : "Only when no place is enough: a repeater that the site has already (" + listed(spare, few) +
                  "), another one on the way, a second hub, or a wire.");
  }

  const Language& language_;
  const Site& site_;
  const LinkTable& table_;
  const Link& link_;
  const ReadingAnswer* read_;
  const Device* device_;
  const Profile* profile_ = nullptr;
  std::vector<std::string> texts_;
};

}  // namespace

std::vector<std::string> mounting_advice(const Site& site, const Link& link) {
  const Device* device = find_named(site.devices, link.device);
  const bool ruled = device != nullptr && site.profiles.at(device->profile).fixed_by_rule;
  const std::string how = ruled ? "a plastic spacer, where its instructions allow one, is tried first."
                          : device != nullptr && device->may_move
                              ? "a plastic spacer or a place beside the steel is tried first."
                              : "a plastic spacer is tried first.";
  std::vector<std::string> texts;
  const auto say = [&](BudgetTerm term, const std::string& words) {
    const double loss_db = device_loss_db(link, term);
    if (loss_db >= kBigMountDb) texts.push_back(with_unit(loss_db, 0, "dB") + " of it is " + words);
  };
  say(BudgetTerm::transmitter_mounting, "the mounting: " + how);
  say(BudgetTerm::transmitter_metal, "the metal that it hangs on: " + how);
  say(BudgetTerm::transmitter_body, "the hand or body at the device: held free of it, it is heard better.");
  return texts;
}

std::vector<std::string> advice(const Language& language, const Site& site, const LinkTable& table, const Link& link,
                                const ReadingAnswer* read) {
  return Adviser(language, site, table, link, read).take();
}

}  // namespace linkmargin
