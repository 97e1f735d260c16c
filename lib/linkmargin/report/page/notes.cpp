#include "linkmargin/report/page/notes.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/link/mechanism/detours.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/material_facts.hpp"
#include "linkmargin/report/page/tables.hpp"
#include "linkmargin/report/words/cautions.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <set>

namespace linkmargin::page {
namespace {

/// By which measured buildings differ from a prediction by their plan: docs/validation, and the literature
/// there.
constexpr double kLeastErrorDb = 5;
constexpr double kMostErrorDb = 10;

class Notes {
 public:
  Notes(html::Writer& out, const PageModel& content) : out_(out), content_(content) {}

  void write() {
    out_.open("section", {{"id", "notes"}, {"aria-labelledby", "notes-title"}});
    out_.element("h2", {{"id", "notes-title"}}, say("notes.title"));
    warnings();
    method();
    facts();
    materials();
    profiles();
    out_.close();
  }

 private:
  std::string say(std::string_view key, Language::Places places = {}) const {
    return content_.say(key, places);
  }

  const Language& language() const { return content_.language(); }

  void warnings() {
    out_.element("h3", say("notes.cautions"));
    out_.open("ul", {{"class", "cautions"}});
    for (const std::string& caution : standing_cautions(content_.wording()))
      out_.element("li", {{"class", "caution"}}, caution);
    out_.close();
    const std::vector<std::string> own = site_notes(content_);
    if (own.empty()) return;
    out_.element("h3", say("notes.site_cautions"));
    out_.open("ul", {{"class", "cautions"}});
    for (const std::string& warning : own) out_.element("li", {{"class", "caution"}}, warning);
    out_.close();
  }

  void method() {
    out_.element("h3", say("notes.method"));
    for (const std::string& text : method_notes(content_)) out_.element("p", text);
  }

  void facts() {
    out_.element("h3", say("notes.assumptions"));
    out_.open("dl", {{"class", "facts"}});
    for (const auto& [name, value] : assumptions(content_)) {
      out_.element("dt", name);
      out_.element("dd", value);
    }
    out_.close();
  }

  void cell(const std::string& text, bool english) {
    out_.element("td",
                 {{english && language().words().tag != "en" ? "lang" : "class", english ? "en" : "text"}},
                 text);
  }

  std::set<std::string> used_materials() const {
    std::set<std::string> rows;
    for (const DoorsReview& state : content_.review().states) {
      for (const Link& link : state.table.links) {
        for (const LossItem& item : link.loss.items) {
          if (!item.table_row.empty()) rows.insert(item.table_row);
        }
      }
    }
    return rows;
  }

  void materials() {
    const std::set<std::string> rows = used_materials();
    if (rows.empty()) return;
    std::vector<std::string> titles{say("notes.material"), say("notes.source"), say("notes.verified")};
    if (content_.for_file()) titles.insert(titles.begin() + 1, {say("notes.loss"), say("notes.spread")});
    open_table(out_, say("notes.materials"), titles, "sources", false);
    const MaterialsOptions options{.frequency_hz = content_.site().radio.frequency_hz};
    for (const std::string& row : rows) {
      const auto found = content_.site().materials.find(row);
      if (found == content_.site().materials.end()) continue;
      const Material& material = found->second;
      out_.open("tr");
      out_.element("th", {{"scope", "row"}}, html::name(language().material(row)));
      if (content_.for_file()) {
        const MaterialFacts facts = material_facts(content_.site().materials, material, options);
        const std::string thickness =
            facts.thickness_m
                ? " (" + language().number(rounded_for_programs(*facts.thickness_m)) + "\u00A0m)"
                : std::string();
        cell(language().number(facts.loss_db, 1) + "\u00A0dB" + thickness, false);
        cell(language().number(material.sigma_db) + "\u00A0dB", false);
      }
      cell(material.source, true);
      cell(material.verified, true);
      out_.close();
    }
    close_table(out_);
  }

  void profiles() {
    std::set<std::string> used;
    const auto take = [&used](const auto& radios) {
      for (const auto& radio : radios) used.insert(radio.profile);
    };
    take(content_.site().hubs);
    take(content_.site().repeaters);
    take(content_.site().devices);
    take(content_.site().areas);
    open_table(out_, say("notes.profiles"), {say("notes.profile"), say("notes.source")}, "sources", false);
    for (const std::string& name : used) {
      out_.open("tr");
      out_.element("th", {{"scope", "row"}}, html::name(name));
      cell(content_.site().profiles.at(name).source, true);
      out_.close();
    }
    close_table(out_);
  }

  html::Writer& out_;
  const PageModel& content_;
};

}  // namespace

std::vector<std::string> site_notes(const PageModel& content) {
  std::vector<Warning> own;
  for (const DoorsReview& state : content.review().states) {
    add_once(own, state.table.warnings);
    if (!content.for_file()) continue;
    for (const CoverageMap& map : state.maps) add_once(own, map.warnings);
  }
  add_once(own, content.review().relocation.warnings);
  return warning_texts(content.language(), own);
}

std::vector<std::string> method_notes(const PageModel& content) {
  const auto points = [&](double db) { return content.language().number(content.points(db), 0); };
  std::vector<std::string> texts{content.say("notes.method_level")};
  if (counts_diffraction(content.site().radio)) texts.push_back(content.say("notes.method_ways"));
  texts.push_back(
      content.say("notes.method_chance", {{"from", points(kLeastErrorDb)}, {"to", points(kMostErrorDb)}}));
  texts.push_back(content.say("notes.method_maps"));
  texts.push_back(content.say("notes.method_remedies"));
  return texts;
}

std::vector<std::pair<std::string, std::string>> assumptions(const PageModel& content) {
  const Site& site = content.site();
  const Language& language = content.language();
  const LinkTable& table = content.review().states.front().table;
  std::vector<std::pair<std::string, std::string>> facts;
  const auto fact = [&](const char* name, const std::string& value) {
    facts.emplace_back(content.say(name), value);
  };
  const auto say = [&](std::string_view key, Language::Places places = {}) {
    return content.say(key, places);
  };
  fact("notes.frequency", language.number(mhz_from_hz(site.radio.frequency_hz)) + "\u00A0MHz");
  fact("notes.doors", say(table.doors == Doors::armed ? "notes.doors_closed" : "notes.doors_open"));
  fact("notes.scale", say("notes.scale_value", {{"zero", language.number(site.reading.zero.value)},
                                                {"full", language.number(site.reading.full.value)},
                                                {"threshold", content.threshold_text()}}));
  fact("notes.model", say(itemises(table.model) ? "notes.model_walls" : "notes.model_other",
                          {{"model", model_word(table.model)}}));
  fact("notes.learned", say(site.calibration ? "notes.learned_yes" : "notes.learned_no"));
  if (content.for_file()) {
    fact("notes.corners", say(site.radio.diffraction ? "notes.on" : "notes.off"));
    fact("notes.reflections", say(site.radio.reverberation ? "notes.on" : "notes.off"));
    if (counts_reverberation(site.radio)) {
      const bool street = site.radio.surroundings == Surroundings::street;
      fact("notes.opposite",
           street ? say("notes.opposite_street", {{"distance", language.length(site.radio.street_m)}})
                  : say("notes.opposite_open"));
    }
    if (site.radio.exponent) fact("notes.exponent", language.number(*site.radio.exponent));
    if (site.radio.model_sigma_db)
      fact("notes.model_sigma", language.number(*site.radio.model_sigma_db) + "\u00A0dB");
    if (site.radio.noise_rise_db != 0)
      fact("notes.noise_rise", language.number(site.radio.noise_rise_db) + "\u00A0dB");
    fact("notes.fading", say(site.fading.on ? "notes.on" : "notes.off"));
  }
  fact("notes.date", content.options().date);
  fact("notes.program", "linkmargin " + content.options().version);
  return facts;
}

void write_notes(html::Writer& out, const PageModel& content) {
  Notes(out, content).write();
}

}  // namespace linkmargin::page
