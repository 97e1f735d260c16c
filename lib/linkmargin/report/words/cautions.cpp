#include "linkmargin/report/words/cautions.hpp"

#include "linkmargin/report/words/codes/warning_words.hpp"
namespace linkmargin {
namespace {

constexpr const char* kCautions[] = {"reading_decides", "detectors_stay", "local_rules",
                                     "radio_rules",     "ladders",        "drilling"};

}  // namespace

std::vector<std::string> standing_cautions(const Wording& wording) {
  std::vector<std::string> texts;
  for (const char* caution : kCautions) texts.push_back(wording.say(std::string("caution.whole.") + caution));
  return texts;
}

std::vector<Block> closing_cautions(const Wording& wording, std::initializer_list<StandingCaution> cautions) {
  std::vector<Block> lines;
  for (const StandingCaution caution : cautions) {
    const char* code = kCautions[static_cast<std::size_t>(caution)];
    lines.emplace_back(Paragraph{wording.say(std::string("caution.short.") + code), Tone::faint});
  }
  return lines;
}

const std::vector<std::string>& standing_warnings() {
  static const std::vector<std::string> warnings{
      "A prediction never replaces the reading taken on site, in the armed state, with the equipment's own "
      "test.",
      "Detectors, fire detectors above all, stay where their own rules and instructions put them; a better "
      "reading "
      "is no reason to leave that place. Move the hub or what stands between, or add a repeater or a wire, "
      "instead.",
      "Local codes, the insurer's terms and the product's instructions come first. Who may plan, install, "
      "wire or "
      "alter alarm and mains equipment is ruled by law in many places: where it is, leave it to licensed "
      "people.",
      "Radio regulations limit frequency, radiated power and duty cycle: no other antenna, amplifier or "
      "power setting "
      "than the equipment is approved with.",
      "Working at height: a sound ladder on firm ground, a second person, and no trial by leaning out.",
      "Before drilling, look for cables, pipes, gas, underfloor heating, asbestos and the fire rating of the "
      "wall."};
  return warnings;
}

const std::string& short_warning() {
  static const std::string warning =
      "An estimate: it never replaces the reading on site. Detectors, fire above all, stay where their own "
      "rules put "
      "them. Keep to local codes, radio regulations and licensed practice; mind ladders, and services in "
      "walls.";
  return warning;
}

BulletList warning_list(const Language& language, const std::vector<Warning>& warnings) {
  BulletList list;
  for (const std::string& warning : warning_texts(language, warnings)) list.items.push_back({warning});
  return list;
}

}  // namespace linkmargin
