#include "output/picture.hpp"

#include "output/descriptor.hpp"
#include "output/output.hpp"
#include "pictures/render.hpp"
#include "support/failure.hpp"

#include <array>
#include <cerrno>
#include <cstddef>
#include <dlfcn.h>
#include <fcntl.h>
#include <new>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <system_error>
#include <unistd.h>

namespace linkmargin::cli {
namespace {

/// Pixels of a PNG to one of the drawing's: small letters are read easily then.
constexpr double kPngScale = 2;

/// Found beside the program or where it is installed: both folders are in the program's run path.
constexpr const char* kModule = "linkmargin_pictures.so";

/// What the module's libraries map when they are loaded. Measured with librsvg 2.54: 60 MB.
constexpr std::size_t kLibrariesB = std::size_t{64} << 20U;

/// How the process that draws ends.
enum ChildStatus { kDrawn = 0, kFaulty = 1 };

void require_memory() {
  void* const room = ::mmap(nullptr, kLibrariesB, PROT_READ, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (room == MAP_FAILED) throw std::bad_alloc();
  ::munmap(room, kLibrariesB);
}

/// The module stays loaded until the program ends, as its libraries ask for.
pictures::Render* renderer() {
  static pictures::Render* render = nullptr;
  if (render != nullptr) return render;
  require_memory();
  void* const module = ::dlopen(kModule, RTLD_NOW | RTLD_LOCAL);
  void* const function = module != nullptr ? ::dlsym(module, pictures::kRenderName) : nullptr;
  if (function == nullptr) {
    const char* const why = ::dlerror();
    throw Failure(kNoAccess,
                  "PNG and PDF need the module linkmargin_pictures with librsvg, which is not installed: "
                  "write an SVG instead" +
                      (why != nullptr ? " (" + std::string(why) + ")" : ""));
  }
  render = reinterpret_cast<pictures::Render*>(function);
  return render;
}

[[noreturn]] void draw_and_exit(const pictures::Request& request, int to) {
  const rlimit no_core{0, 0};
  ::setrlimit(RLIMIT_CORE, &no_core);
  const int nowhere = ::open("/dev/null", O_WRONLY | O_CLOEXEC);
  if (nowhere >= 0) ::dup2(nowhere, STDERR_FILENO);
  pictures::Rendered drawn;
  renderer()(request, drawn);
  const bool good = drawn.fault.empty() && write_all(to, drawn.bytes) == 0;
  if (!good) (void)write_all(to, drawn.fault);
  ::_exit(good ? kDrawn : kFaulty);
}

std::string all_from(int descriptor) {
  std::string bytes;
  std::array<char, 65536> part{};
  for (;;) {
    const ssize_t count = ::read(descriptor, part.data(), part.size());
    if (count == 0) return bytes;
    if (count > 0) {
      bytes.append(part.data(), static_cast<std::size_t>(count));
    } else if (errno != EINTR) {
      throw std::system_error(errno, std::generic_category(), "a pipe");
    }
  }
}

int status_of(pid_t child) {
  int status = 0;
  while (::waitpid(child, &status, 0) < 0) {
    if (errno != EINTR) throw std::system_error(errno, std::generic_category(), "a process");
  }
  return status;
}

/// By a process of its own: the libraries abort the one that they run in where memory or a thread is refused
/// to them.
std::string drawn(const pictures::Request& request) {
  std::array<int, 2> ends{};
  if (::pipe2(ends.data(), O_CLOEXEC) != 0) throw std::system_error(errno, std::generic_category(), "a pipe");
  const Descriptor from(ends[0]);
  Descriptor to(ends[1]);
  const pid_t child = ::fork();
  if (child < 0) throw std::system_error(errno, std::generic_category(), "a process that draws");
  if (child == 0) draw_and_exit(request, to.number());
  to = Descriptor(-1);  // or the pipe never ends
  std::string bytes = all_from(from.number());
  const int status = status_of(child);
  if (WIFEXITED(status) && WEXITSTATUS(status) == kDrawn) return bytes;
  const std::string why = WIFEXITED(status) && !bytes.empty()
                              ? bytes
                              : "there is not enough memory for it, or its libraries were refused a thread";
  const std::string format = request.format == pictures::Format::png ? "png" : "pdf";
  throw Failure(kNoAccess, "the " + format + " could not be drawn: " + why);
}

}  // namespace

bool is_picture(const std::string& format) {
  return format == "svg" || is_rendered(format);
}

bool is_rendered(const std::string& format) {
  return format == "png" || format == "pdf";
}

void require_picture(const std::string& format) {
  if (is_rendered(format)) (void)renderer();
}

std::string picture(std::string svg, const std::string& format) {
  if (format == "svg") return svg;
  require_picture(format);
  return drawn({.pages = {&svg, 1},
                .format = format == "png" ? pictures::Format::png : pictures::Format::pdf,
                .scale = kPngScale});
}

PlanFraming plan_framing(const Arguments& arguments) {
  return arguments.word("frame", {"building", "all"}) == "all" ? PlanFraming::all : PlanFraming::building;
}

std::string paged_pdf(std::span<const std::string> pages, const std::string& title) {
  require_picture("pdf");
  return drawn({.pages = pages, .format = pictures::Format::pdf, .title = title});
}

}  // namespace linkmargin::cli
