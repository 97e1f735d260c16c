#include "support/interruption.hpp"

#include <atomic>
#include <csignal>

namespace linkmargin::cli {
namespace {

std::atomic<bool> interrupted{false};
static_assert(std::atomic<bool>::is_always_lock_free);  // else a handler must not set it

extern "C" void on_interruption(int) {
  interrupted = true;
  std::signal(SIGINT, SIG_DFL);
}

}  // namespace

Interruption::Interruption() {
  interrupted = false;
  std::signal(SIGINT, on_interruption);
}

Interruption::~Interruption() {
  std::signal(SIGINT, SIG_DFL);
}

bool Interruption::came() const {
  return interrupted;
}

}  // namespace linkmargin::cli
