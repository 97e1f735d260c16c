#include "linkmargin/report/words/placement_words.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/move_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

const ChosenService& worst_of(const PlacementChoice& choice) {
  return choice.services[choice.worst];
}

/// A change of the least chance: "from 31 to 78 in 100".
std::string change_words(double from, double to) {
  return "from " + chance_percent(from) + " to " + chance_text(to);
}

/// "1 hub and 2 repeaters"
std::string parts_words(int hubs, int repeaters) {
  const std::string of_hubs = counted(static_cast<std::size_t>(hubs), "hub", "hubs");
  if (repeaters == 0) return of_hubs + (hubs == 1 ? " alone" : " and no repeater");
  return of_hubs + " and " + counted(static_cast<std::size_t>(repeaters), "repeater", "repeaters");
}

}  // namespace

std::string spot_words(const Site& site, const Placement& place) {
  return place_words(site, place) + ", storey " + quoted_name(site.storeys[place.storey].name) + ", " +
         shortest_text(place.height_m) + " m up";
}

std::string placed_words(const Site& site, const ChosenPart& part) {
  std::string text = (part.repeater ? "Repeater " : "Hub ") + quoted_name(part.name);
  if (part.fixed) {
    text += " stays at " + spot_words(site, part.place);
  } else if (!part.present) {
    text += " (one more, profile " + quoted_name(part.profile) + ") at " + spot_words(site, part.place);
  } else if (part.moved_m && *part.moved_m < 0.01) {
    text += " stays where it is, at " + spot_words(site, part.place);
  } else {
    text += " to " + spot_words(site, part.place);
    if (part.moved_m) text += ": " + with_unit(*part.moved_m, 1, "m") + " from where it is";
  }
  text += "; serves " + counted(static_cast<std::size_t>(part.serves), "device or area", "devices and areas");
  if (part.load) {
    text += ", " + counted(static_cast<std::size_t>(part.load->slots_used), "slot", "slots") + " taken";
    if (part.load->capacity) text += " of " + std::to_string(*part.load->capacity);
  }
  return text + ".";
}

std::string worst_words(const PlacementAnswer& answer, const PlacementChoice& choice) {
  if (choice.services.empty()) return "no device";
  const ChosenService& worst = worst_of(choice);
  if (worst.area)
    return quoted_name(worst.name) + ", of which " + chance_percent(worst.chance) + " % is served";
  const double percent = whole_percent(worst.reading_percent, answer.reading.weak_below_percent);
  return quoted_name(worst.name) + ", about " + fixed_text(percent, 0) + " %, with a chance of " + chance_text(worst.chance);
}

std::string weak_words(int count) {
  return count == 0 ? "none is weak" : counted(static_cast<std::size_t>(count), "is", "are") + " weak";
}

std::string present_words(const PlacementAnswer& answer) {
  const PlacementChoice& now = *answer.present;
  std::string text =
      "As things are the worst is " + worst_words(answer, now) + ", and " + weak_words(now.weak_count) + ".";
  if (answer.choices.empty()) return text;
  const PlacementChoice& best = answer.choices.front();
  if (best.worst_chance() - now.worst_chance() < 0.005)
    return text + " Moving gains nothing to speak of: leave everything where it is.";
  return text + " The change takes the worst chance " +
         change_words(now.worst_chance(), best.worst_chance()) + "; then " + weak_words(best.weak_count) +
         ".";
}

std::string flatness_words(const Site& site, const PlacementAnswer& answer) {
  const PlacementField& field = *answer.field;
  return "How exact the place must be: on storey " + quoted_name(site.storeys[field.storey].name) + ", " +
         with_unit(field.within_1_db_m2, 1, "m2") + " of places for hub " + quoted_name(field.hub) +
         " are within 1 dB of the best (a worst chance of " + chance_text(field.one_db_less) + " or more).";
}

std::string middle_words(const Site& site, const PlacementAnswer& answer) {
  const PlacementChoice& middle = *answer.middle;
  const auto moved = std::ranges::find_if(
      middle.parts, [](const ChosenPart& part) { return !part.fixed && !part.repeater; });
  const PlacementChoice& best = answer.choices.front();
  std::string text = "The middle of the plan";
  if (moved != middle.parts.end()) text += ", " + place_words(site, moved->place) + ",";
  if (middle.services.empty()) return text + " would do as well.";
  if (best.worst_chance() - middle.worst_chance() < 0.005)
    return text + " would do as well for the worst" +
           (best.sum - middle.sum < 0.05 ? "."
                                         : "; all chances together would be " + fixed_text(middle.sum, 1) +
                                               " instead of " + fixed_text(best.sum, 1) + ".");
  const ChosenService& worst = worst_of(middle);
  text += " would leave " + worst_words(answer, middle);
  const LossItem* obstacle = worst.area ? nullptr : biggest_obstacle(worst.link.loss);
  if (obstacle != nullptr) {
    text += ": " + counted(things_in_the_way(worst.link.loss), "thing stands", "things stand") +
            " in its way over " + with_unit(worst.link.loss.distance_m, 1, "m") + ", most of all " +
            obstacle->name + " with " + with_unit(obstacle->loss_db, 0, "dB");
  }
  return text + ". Walls count, not distance alone.";
}

std::string price_words(const PlacementAnswer& answer, const CountTradeoff& price) {
  const PlacementChoice& best = answer.choices.front();
  int hubs = 0;
  int repeaters = 0;
  for (const ChosenPart& part : best.parts) ++(part.repeater ? repeaters : hubs);
  const std::string what = parts_words(price.hubs, price.repeaters);
  if (price.missing_slots > 0)
    return "With " + what + " it cannot be: " +
           counted(static_cast<std::size_t>(price.missing_slots), "slot is missing", "slots are missing") +
           ".";
  std::string text = "With " + what;
  const double gain = price.worst_chance - best.worst_chance();
  if (std::abs(gain) < 0.005) {
    text += " the worst chance stays at " + chance_text(best.worst_chance());
  } else {
    text += std::string(gain > 0 ? " the worst chance would rise " : " the worst chance would fall ") +
            change_words(best.worst_chance(), price.worst_chance) + " (" + quoted_name(price.worst) + ")";
  }
  const double of_sum = price.sum - best.sum;
  if (std::abs(of_sum) >= 0.05) {
    text += std::string(of_sum > 0 ? "; all chances together gain " : "; all chances together lose ") +
            fixed_text(std::abs(of_sum), 1);
  }
  return text + (price.proved ? "." : ", as far as was looked.");
}

const std::vector<std::string>& placement_advice() {
  static const std::vector<std::string> advice{
      "This is an estimate: it never replaces the reading on site. Hold the hub there before it is fixed, "
      "everything closed, "
      "and read every device.",
      "Moving what is there comes before anything is bought: 'relocate' tells what centimetres and the "
      "devices' own mounts "
      "can do.",
      "Detectors stay where their rules put them: only hubs and repeaters were placed.",
      "The plan does not show where supplies are, nor who may reach the place. Mains work is for licensed "
      "people, and local "
      "codes and the equipment's own instructions go before anything here."};
  return advice;
}

std::vector<std::string> placement_warnings(const Site& site, const PlacementAnswer& answer) {
  std::vector<std::string> warnings;
  if (answer.choices.empty()) return warnings;
  const PlacementChoice& best = answer.choices.front();
  for (const ChosenPart& part : best.parts) {
    if (!part.present && part.load && part.load->capacity)
      warnings.push_back("hub " + quoted_name(part.name) + " was reckoned with " +
                         std::to_string(*part.load->capacity) + " slots, like " +
                         quoted_name(site.hubs.front().name) +
                         ": its capacity is to be written into the site file");
  }
  for (const Hub& hub : site.hubs) {
    const auto used = [&](const ChosenPart& part) { return !part.repeater && part.name == hub.name; };
    if (std::ranges::none_of(best.parts, used))
      warnings.push_back("hub " + quoted_name(hub.name) +
                         " is left out: take it out of the site file by hand");
  }
  for (const Repeater& repeater : site.repeaters) {
    const auto used = [&](const ChosenPart& part) { return part.repeater && part.name == repeater.name; };
    if (std::ranges::none_of(best.parts, used))
      warnings.push_back("repeater " + quoted_name(repeater.name) +
                         " serves nobody and is left out: it may go");
  }
  if (std::ranges::any_of(best.services, [](const ChosenService& one) { return !one.via.empty(); }))
    warnings.emplace_back(
        "'check' and maps do not count repeaters yet: they show those devices with the hub itself");
  if (!site.areas.empty())
    warnings.emplace_back(
        "while places are searched an area is some two dozen points; the shares that are shown are those of "
        "'check'");
  return warnings;
}

}  // namespace linkmargin
