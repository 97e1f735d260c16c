#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/placement_report.hpp"
#include "linkmargin/report/words/placement_words.hpp"

namespace linkmargin {
namespace {

std::string status_word(PlacementStatus status) {
  switch (status) {
    case PlacementStatus::optimal:
      return "optimal";
    case PlacementStatus::bounded:
      return "bounded";
    case PlacementStatus::infeasible:
      return "infeasible";
    case PlacementStatus::stopped:
      return "stopped";
  }
  return {};
}

json::Value part_json(const Site& site, const ChosenPart& part) {
  json::Value value{{part.repeater ? "repeater" : "hub", part.name},
                    {"profile", part.profile},
                    {"storey", site.storeys[part.place.storey].name},
                    {"at_m", {json::number(part.place.at.x), json::number(part.place.at.y)}},
                    {"height_m", json::number(part.place.height_m)},
                    {"present", part.present},
                    {"fixed", part.fixed},
                    {"moved_m", part.moved_m ? json::number(*part.moved_m) : json::Value(nullptr)},
                    {"serves", part.serves}};
  if (part.load) {
    value["slots_used"] = part.load->slots_used;
    value["capacity"] = part.load->capacity ? json::Value(*part.load->capacity) : json::Value(nullptr);
  }
  return value;
}

json::Value choice_json(const Language& language, const Site& site, const std::vector<std::string>& cases,
                        const PlacementChoice& choice) {
  json::Value hubs = json::Value::array();
  json::Value repeaters = json::Value::array();
  for (const ChosenPart& part : choice.parts)
    (part.repeater ? repeaters : hubs).push_back(part_json(site, part));
  json::Value links = json::Value::array();
  json::Value areas = json::Value::array();
  for (const ChosenService& service : choice.services) {
    if (service.area) {
      areas.push_back({{"area", service.name},
                       {"hub", service.hub},
                       {"via", service.via},
                       {"share_percent", json::number(100 * service.chance)},
                       {"weak", service.weak},
                       {"case", cases[service.in_case]}});
      continue;
    }
    json::Value link = json::link(language, service.link);
    link["weak"] = service.weak;
    link["case"] = cases[service.in_case];
    links.push_back(std::move(link));
  }
  return {{"hubs", std::move(hubs)},
          {"repeaters", std::move(repeaters)},
          {"worst",
           choice.services.empty() ? json::Value(nullptr) : json::Value(choice.services[choice.worst].name)},
          {"worst_pass_probability", json::number(choice.worst_chance())},
          {"worst_reading_percent", json::number(choice.worst_reading_percent)},
          {"sum_pass_probability", json::number(choice.sum)},
          {"weak_count", choice.weak_count},
          {"links", std::move(links)},
          {"areas", std::move(areas)},
          {"edits", json::edits(choice.edits)}};
}

json::Value price_json(const CountTradeoff& price) {
  const bool there = price.missing_slots == 0;
  return {{"hubs", price.hubs},
          {"repeaters", price.repeaters},
          {"worst_pass_probability", there ? json::number(price.worst_chance) : json::Value(nullptr)},
          {"sum_pass_probability", there ? json::number(price.sum) : json::Value(nullptr)},
          {"worst", there ? json::Value(price.worst) : json::Value(nullptr)},
          {"missing_slots", price.missing_slots},
          {"proved", price.proved}};
}

json::Value fewest_json(const FewestParts& fewest) {
  json::Value tried = json::Value::array();
  for (const FewestParts::Count& count : fewest.not_enough) {
    tried.push_back({{"hubs", count.hubs},
                     {"repeaters", count.repeaters},
                     {"worst_pass_probability", json::number(count.worst_chance)},
                     {"missing_slots", count.missing_slots}});
  }
  return {{"chance", json::number(fewest.chance)},
          {"reached", fewest.reached},
          {"proved", fewest.proved},
          {"not_enough", std::move(tried)}};
}

}  // namespace

std::string placement_json(const Language& language, const Site& site, const PlacementAnswer& answer) {
  const Wording wording(language);
  std::vector<std::string> cases;
  for (const HeldCase& held : answer.cases) cases.push_back(case_words(wording, held));
  const auto choice_if = [&](const std::optional<PlacementChoice>& choice) {
    return choice ? choice_json(language, site, cases, *choice) : json::Value(nullptr);
  };
  json::Value choices = json::Value::array();
  for (const PlacementChoice& choice : answer.choices)
    choices.push_back(choice_json(language, site, cases, choice));
  json::Value prices = json::Value::array();
  for (const CountTradeoff& price : answer.prices) prices.push_back(price_json(price));
  json::Value field = nullptr;
  if (answer.field) {
    field = {{"hub", answer.field->hub},
             {"storey", site.storeys[answer.field->storey].name},
             {"height_m", json::number(answer.field->height_m)},
             {"places", answer.field->spots.size()},
             {"within_1_db_places", answer.field->within_1_db()},
             {"within_1_db_pass_probability", json::number(answer.field->one_db_less)}};
  }
  return json::text({{"site", answer.site},
                     {"frequency_mhz", json::number(mhz_from_hz(answer.frequency_hz))},
                     {"cases", cases},
                     {"status", status_word(answer.status)},
                     {"proved", answer.proved},
                     {"leave", gains_little(answer)},
                     {"hubs_not_needed", answer.hubs_not_needed},
                     {"repeaters_not_needed", answer.repeaters_not_needed},
                     {"bound_db", answer.bound_db ? json::number(*answer.bound_db) : json::Value(nullptr)},
                     {"enough", json::number(answer.target_probability)},
                     {"worst_bound", json::number(answer.worst_bound)},
                     {"sum_bound", json::number(answer.sum_bound)},
                     {"step_m", json::number(answer.step_m)},
                     {"proved_step_m", json::number(answer.proved_step_m)},
                     {"places", answer.places},
                     {"missing_slots", answer.missing_slots},
                     {"without_place", answer.without_place},
                     {"fewest", answer.fewest ? fewest_json(*answer.fewest) : json::Value(nullptr)},
                     {"choices", std::move(choices)},
                     {"present", choice_if(answer.present)},
                     {"middle", choice_if(answer.middle)},
                     {"flatness", std::move(field)},
                     {"prices", std::move(prices)},
                     {"text", placement_proof(language, answer)},
                     {"cautions", json::warnings(language, answer.warnings)}});
}

}  // namespace linkmargin
