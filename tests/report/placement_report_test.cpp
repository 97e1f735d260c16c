#include "linkmargin/report/placement_report.hpp"

#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/document/write_text.hpp"
#include "linkmargin/report/map/placement_map.hpp"
#include "linkmargin/report/words/placement_words.hpp"
#include "linkmargin/site/edit/edit.hpp"

#include "fixtures/english.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace linkmargin;

namespace {

Site three_contacts() {
  Site site = fixture::two_rooms();
  site.radio.diffraction = false;
  site.reading = {.zero = Dbm{-95}, .full = Dbm{-15}, .weak_below_percent = 60};
  Device contact = site.devices[0];
  contact.name = "near";
  contact.place.at = {0.5, 3.5};
  site.devices.push_back(contact);
  contact.name = "corner";
  contact.place.at = {3.5, 0.5};
  site.devices.push_back(contact);
  site.hubs[0].capacity = Capacity{8, {}};
  return site;
}

std::string text_of(const Site& site, const PlacementAnswer& answer) {
  return write_text(placement_document(fixture::english(), site, answer), {.width = 100, .colour = false});
}

bool says(const std::string& text, const std::string& part) {
  std::string flat;
  for (const char letter : text) {
    if (letter != '\n' && (letter != ' ' || flat.empty() || flat.back() != ' ')) flat += letter;
    if (letter == '\n' && !flat.empty() && flat.back() != ' ') flat += ' ';
  }
  return flat.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("the text says where to, how sure that is, and what never to forget") {
  const Site site = three_contacts();
  const PlacementAnswer answer = placement(site, {.anywhere = true, .step_m = 0.5});
  const std::string text = text_of(site, answer);
  const PlacementChoice& best = answer.choices.front();
  CHECK(says(text, placement_proof(fixture::english(), answer)));
  CHECK(says(text, move_words(fixture::wording(), site, best.parts.front())));
  CHECK(says(text, better_words(fixture::wording(), answer)));
  CHECK(says(text, load_words(fixture::wording(), best.parts.front())));
  CHECK(says(load_words(fixture::wording(), best.parts.front()), " of 8 "));
  CHECK(says(text, exact_words(fixture::wording(), site, answer)));
  for (const std::string& advice : placement_advice(fixture::wording())) CHECK(says(text, advice));
  for (const char* caution : {"reading_decides", "detectors_stay"})
    CHECK(says(text, fixture::english().say(std::string("caution.short.") + caution)));
  CHECK(says(text, parts_words(fixture::wording(), 2, 0)));
  for (const Device& device : site.devices) CHECK(says(text, device.name));
}

TEST_CASE("each status has its own words") {
  const Site site = three_contacts();
  PlacementAnswer answer = placement(site, {.anywhere = true, .step_m = 0.5, .best_only = true});
  const auto proof = [&] { return placement_proof(fixture::english(), answer); };
  const auto grid = [&](const char* key) {
    return fixture::english().counted(std::string("placement.proof.") + key, answer.places,
                                      {{"step", fixture::english().number(answer.proved_step_m) + " m"}});
  };
  CHECK(proof() == grid("best"));
  answer.status = PlacementStatus::bounded;
  answer.proved = false;
  answer.bound_db = 1.26;
  answer.worst_bound = 0.9;
  CHECK(says(proof(), grid("found")));
  CHECK(says(proof(), "1.3 dB"));
  CHECK(says(proof(), "90 in 100"));
  answer.bound_db = 0;
  answer.sum_bound = 2.5;
  CHECK(says(proof(), "2.50"));
  answer.proved = true;
  answer.bound_db.reset();
  answer.proved_step_m = 2;
  CHECK(proof() ==
        grid("best") + " " + fixture::english().say("placement.proof.coarser", {{"step", "0.5 m"}}));
  answer.status = PlacementStatus::stopped;
  CHECK(says(proof(), grid("stopped")));
  answer.choices.clear();
  CHECK(proof() == fixture::english().say("placement.proof.stopped_empty"));
  answer.status = PlacementStatus::infeasible;
  answer.missing_slots = 3;
  CHECK(proof() == fixture::english().counted("placement.impossible.slots", 3));
  answer.missing_slots = 0;
  answer.without_place = {"hub"};
  CHECK(proof() == fixture::english().say("placement.impossible.place", {{"names", "hub"}}));
  CHECK(says(text_of(site, answer), proof()));
}

TEST_CASE("where moving gains next to nothing the first word is to leave it") {
  const Site site = three_contacts();
  PlacementAnswer answer = placement(site, {.anywhere = true, .step_m = 0.5});
  REQUIRE(answer.present);
  const std::string leave = fixture::english().counted("placement.leave", 1);
  answer.choices[0].parts[0].moved_m = 1.5;
  double& worst = answer.present->services[answer.present->worst].chance;
  worst = answer.choices[0].worst_chance() - 0.1;
  answer.present->sum = answer.choices[0].sum - 0.05;
  answer.present_one_db_more = worst + 0.05;
  CHECK(!gains_little(answer));
  CHECK(!says(text_of(site, answer), leave));
  answer.present_one_db_more = answer.choices[0].worst_chance();  // 1 dB would do as much
  CHECK(gains_little(answer));
  answer.present_one_db_more = worst;
  worst = answer.choices[0].worst_chance() - 0.029;
  CHECK(gains_little(answer));
  answer.present->sum = answer.choices[0].sum - 0.03 * static_cast<double>(site.devices.size()) - 0.001;
  CHECK(!gains_little(answer));  // the others gain
  *answer.present = answer.choices[0];
  CHECK(gains_little(answer));
  CHECK(says(text_of(site, answer), leave));
  answer.choices[0].parts[0].present = false;
  CHECK(!gains_little(answer));
}

TEST_CASE("parts that nobody needs are not placed, and the first line says so") {
  Site site = three_contacts();
  site.reading.weak_below_percent = 30;
  const PlacementAnswer answer =
      placement(site, {.anywhere = true, .hubs = 2, .step_m = 0.5, .best_only = true});
  CHECK(answer.hubs_not_needed == 1);
  CHECK(answer.choices.at(0).parts.size() == 1);
  const std::string text = text_of(site, answer);
  const std::string first =
      fixture::english().counted("placement.not_needed.hub", 1, {{"chance", "90 in 100"}});
  CHECK(says(text, first));
  site.reading.weak_below_percent = 90;  // nothing reaches that for sure
  CHECK(placement(site, {.anywhere = true, .hubs = 2, .step_m = 0.5, .best_only = true}).hubs_not_needed ==
        0);
}

TEST_CASE("what is weak and what is only doubtful is named") {
  const Site site = three_contacts();
  PlacementChoice choice =
      placement(site, {.anywhere = true, .step_m = 0.5, .best_only = true}).choices.at(0);
  for (ChosenService& service : choice.services) {
    service.weak = false;
    service.chance = 0.95;
  }
  CHECK(standing_words(fixture::wording(), choice) == fixture::english().say("placement.nothing_weak"));
  choice.services[1].chance = 0.8;
  CHECK(says(standing_words(fixture::wording(), choice), choice.services[1].name));
  choice.services[0].weak = true;
  CHECK(says(standing_words(fixture::wording(), choice),
             fixture::english().say("placement.weak", {{"names", choice.services[0].name}})));
}

TEST_CASE("the JSON has the keys that are promised, and its edits make the site that it tells of") {
  Site site = three_contacts();
  site.reading.weak_below_percent = 85;  // else the second hub is not needed
  const PlacementAnswer answer = placement(site, {.anywhere = true, .hubs = 2, .step_m = 0.5});
  const auto json = nlohmann::json::parse(placement_json(fixture::english(), site, answer));
  CHECK(json.at("status") == "optimal");
  CHECK(json.at("bound_db") == 0.0);
  REQUIRE(json.at("choices").size() >= 1);
  const auto& best = json.at("choices").at(0);
  for (const char* key : {"hubs", "repeaters", "worst_pass_probability", "worst_reading_percent",
                          "weak_count", "links", "edits"})
    CHECK(best.contains(key));
  REQUIRE(best.at("hubs").size() == 2);
  for (const char* key : {"hub", "storey", "at_m", "height_m"}) CHECK(best.at("hubs").at(0).contains(key));
  REQUIRE(best.at("links").size() == site.devices.size());
  double least = 1;
  for (const auto& link : best.at("links"))
    least = std::min(least, link.at("pass_probability").get<double>());
  CHECK(best.at("worst_pass_probability").get<double>() == doctest::Approx(least).epsilon(1e-9));
  const auto edited = edited_site(site, answer.choices[0].edits);
  REQUIRE(edited);
  REQUIRE(edited->hubs.size() == 2);
  for (std::size_t h = 0; h < 2; ++h) {
    const auto& hub = best.at("hubs").at(h);
    const auto made = std::ranges::find(edited->hubs, hub.at("hub").get<std::string>(), &Hub::name);
    REQUIRE(made != edited->hubs.end());
    CHECK(hub.at("at_m").at(0).get<double>() == doctest::Approx(made->place.at.x));
  }
  CHECK(json.at("prices").size() == 2);  // a hub more and a hub less: no profile is a repeater's
}

TEST_CASE("the rows are a hub each") {
  Site site = three_contacts();
  site.reading.weak_below_percent = 85;  // else the second hub is not needed
  const PlacementAnswer answer = placement(site, {.anywhere = true, .hubs = 2, .step_m = 1});
  const std::string csv = write_csv(placement_rows(site, answer));
  CHECK(csv.starts_with(
      "choice,kind,name,storey,x_m,y_m,height_m,moved_m,serves,slots_used,worst,worst_pass_probability,"
      "worst_reading_percent,weak_count"));
  CHECK(static_cast<std::size_t>(std::ranges::count(csv, '\n')) == 1 + 2 * answer.choices.size());
}

TEST_CASE("the picture rings what is within 1 dB, and there is none without a choice of places") {
  Site site = three_contacts();
  const PlacementAnswer answer = placement(site, {.anywhere = true, .step_m = 0.25});
  const std::string svg = placement_svg(fixture::english(), site, answer);
  CHECK(svg.find(fixture::english().say("placement.sheet.zone")) != std::string::npos);
  CHECK(svg.find("<image") == std::string::npos);
  CHECK(svg.find(fixture::english().say("caution.short.reading_decides")) != std::string::npos);
  CHECK(svg == placement_svg(fixture::english(), site, answer));
  REQUIRE(answer.field);
  std::size_t dots = 0;
  for (std::size_t at = svg.find("<circle"); at != std::string::npos; at = svg.find("<circle", at + 1))
    ++dots;
  CHECK(dots > answer.field->spots.size());  // and the sample
  CHECK(answer.field->within_1_db() > 0);
  CHECK(answer.field->within_1_db() < answer.field->spots.size());
  CHECK(answer.field->one_db_less < answer.field->best);
  site.hubs[0].fixed = true;
  CHECK_THROWS_AS(placement_svg(fixture::english(), site, placement(site, {.anywhere = true})), DomainError);
}

TEST_CASE("what is said of the worst over the table is what the table says of it") {
  const Site site = three_contacts();
  PlacementAnswer answer = placement(site, {.anywhere = true, .step_m = 0.5, .best_only = true});
  ChosenService& worst = answer.choices[0].services[answer.choices[0].worst];
  worst.reading_percent = 75.7;
  CHECK(says(weakest_words(fixture::wording(), answer, answer.choices[0]), "76 %"));
  worst.reading_percent = answer.reading.weak_below_percent - 0.3;
  CHECK(says(weakest_words(fixture::wording(), answer, answer.choices[0]), "59 %"));
}
