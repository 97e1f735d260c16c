// C++ exceptions in WebAssembly. The compiler raises and catches them by the instructions of the WebAssembly
// exception handling proposal; libc++abi of Debian leaves out what stands between: the exception's memory,
// and which handler takes it. The interface is that of the Itanium C++ ABI, "Exception Handling",
// sections 2.2 to 2.5; the table of handlers is the one that LLVM writes for this target (call sites by
// number, no landing pad addresses). One thread, no foreign exceptions, no exception specifications: the
// library has none of them.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <new>
#include <typeinfo>

namespace __cxxabiv1 {

/// As libc++abi declares it: who may catch whom is its virtual function.
class __shim_type_info : public std::type_info {
 public:
  ~__shim_type_info() override;
  virtual void noop1() const;
  virtual void noop2() const;
  virtual bool can_catch(const __shim_type_info* thrown, void*& object) const = 0;
};

}  // namespace __cxxabiv1

namespace {

using Type = __cxxabiv1::__shim_type_info;

/// Stands before the object that is thrown.
struct alignas(16) Thrown {
  const Type* type;
  void* (*destroy)(void*);  // destructors of this target return their object
  void* caught_as;          ///< the object as the handler's type sees it
  Thrown* caught_before;
  std::size_t references;
  int handlers;
  bool rethrown;

  void* object() { return this + 1; }
  static Thrown* of(void* object) { return static_cast<Thrown*>(object) - 1; }
};

Thrown* latest_caught = nullptr;
int uncaught = 0;

std::uintptr_t unsigned_leb(const std::uint8_t*& at) {
  std::uintptr_t value = 0;
  for (unsigned shift = 0;; shift += 7) {
    const std::uint8_t byte = *at++;
    value |= static_cast<std::uintptr_t>(byte & 0x7FU) << shift;
    if ((byte & 0x80U) == 0) return value;
  }
}

std::intptr_t signed_leb(const std::uint8_t*& at) {
  std::uintptr_t value = 0;
  for (unsigned shift = 0;;) {
    const std::uint8_t byte = *at++;
    value |= static_cast<std::uintptr_t>(byte & 0x7FU) << shift;
    shift += 7;
    if ((byte & 0x80U) != 0) continue;
    if ((byte & 0x40U) != 0 && shift < 32) value |= ~std::uintptr_t{0} << shift;
    return static_cast<std::intptr_t>(value);
  }
}

/// The number of the handler of a call site that takes what was thrown; 0: none.
std::intptr_t handler(const std::uint8_t* table, std::size_t site, Thrown& thrown) {
  constexpr std::uint8_t omitted = 0xFF;
  if (*table++ != omitted) std::abort();  // a landing pad base, which this target does not write
  const std::uint8_t* types = nullptr;
  if (*table++ != omitted) {  // addresses as they are
    const std::uintptr_t distance = unsigned_leb(table);
    types = table + distance;
  }
  ++table;  // call sites are written as LEB128
  const std::uintptr_t size = unsigned_leb(table);
  const std::uint8_t* const actions = table + size;
  for (std::size_t i = 0; table < actions; ++i) {
    (void)unsigned_leb(table);
    const std::uintptr_t first = unsigned_leb(table);
    if (i != site) continue;
    if (first == 0) return 0;
    for (const std::uint8_t* action = actions + first - 1;;) {
      const std::intptr_t filter = signed_leb(action);
      if (filter > 0) {
        std::uintptr_t address = 0;
        std::memcpy(&address, types - filter * 4, sizeof address);
        const auto* const wanted = reinterpret_cast<const Type*>(address);
        thrown.caught_as = thrown.object();
        if (wanted == nullptr || wanted->can_catch(thrown.type, thrown.caught_as)) return filter;
      }
      const std::uint8_t* after = action;
      const std::intptr_t next = signed_leb(after);
      if (next == 0) return 0;
      action += next;
    }
  }
  return 0;
}

void release(Thrown* thrown) {
  if (--thrown->references > 0) return;
  if (thrown->destroy != nullptr) thrown->destroy(thrown->object());
  std::free(thrown);
}

[[noreturn]] void raise(Thrown* thrown) {
  ++uncaught;
  __builtin_wasm_throw(0, thrown);
}

}  // namespace

extern "C" {

/// What the compiler writes before it asks for a handler, and reads after.
struct {
  std::uintptr_t site;
  const std::uint8_t* table;
  std::uintptr_t selector;
} __wasm_lpad_context;

int _Unwind_CallPersonality(void* thrown) {
  __wasm_lpad_context.selector = static_cast<std::uintptr_t>(
      handler(__wasm_lpad_context.table, __wasm_lpad_context.site, *static_cast<Thrown*>(thrown)));
  return 0;
}

void* __cxa_allocate_exception(std::size_t size) noexcept {
  void* const memory = std::malloc(sizeof(Thrown) + size);
  if (memory == nullptr) std::abort();
  return (::new (memory) Thrown{})->object();
}

void __cxa_free_exception(void* object) noexcept {
  std::free(Thrown::of(object));
}

void __cxa_throw(void* object, std::type_info* type, void* (*destroy)(void*)) {
  Thrown* const thrown = Thrown::of(object);
  thrown->type = static_cast<const Type*>(type);
  thrown->destroy = destroy;
  thrown->references = 1;
  raise(thrown);
}

void* __cxa_get_exception_ptr(void* raised) noexcept {
  return static_cast<Thrown*>(raised)->caught_as;
}

void* __cxa_begin_catch(void* raised) noexcept {
  auto* const thrown = static_cast<Thrown*>(raised);
  --uncaught;
  thrown->rethrown = false;
  if (thrown->handlers++ == 0) {
    thrown->caught_before = latest_caught;
    latest_caught = thrown;
  }
  return thrown->caught_as != nullptr ? thrown->caught_as : thrown->object();
}

void __cxa_end_catch() {
  Thrown* const thrown = latest_caught;
  if (thrown == nullptr || --thrown->handlers > 0) return;
  latest_caught = thrown->caught_before;
  if (!thrown->rethrown) release(thrown);
}

void __cxa_rethrow() {
  if (latest_caught == nullptr) std::terminate();
  latest_caught->rethrown = true;
  raise(latest_caught);
}

/// What belongs to the only thread lives as long as the instance.
int __cxa_thread_atexit(void (*)(void*), void*, void*) noexcept {
  return 0;
}

}  // extern "C"
