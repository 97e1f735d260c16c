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

BulletList warning_list(const Language& language, const std::vector<Warning>& warnings) {
  BulletList list;
  for (const std::string& warning : warning_texts(language, warnings)) list.items.push_back({warning});
  return list;
}

}  // namespace linkmargin
