# WebAssembly by Debian's clang-16, lld-16, libc++-16-dev-wasm32, libc++abi-16-dev-wasm32, libclang-rt-16-dev-wasm32 and
# wasi-libc: `cmake --preset wasm`.
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang-16)
set(CMAKE_CXX_COMPILER clang++-16)
set(CMAKE_AR llvm-ar-16)
set(CMAKE_RANLIB llvm-ranlib-16)
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_CXX_COMPILER_TARGET wasm32-wasi)
set(here ${CMAKE_CURRENT_LIST_DIR})
set(CMAKE_C_FLAGS_INIT "-isystem /usr/include/wasm32-wasi")
# Our own <thread>, <mutex> and <charconv> stand before those of the library, which has no threads.
string(JOIN " " CMAKE_CXX_FLAGS_INIT -fwasm-exceptions -nostdinc++ -isystem ${here}/include
  -isystem /usr/lib/llvm-16/include/wasm32-wasi/c++/v1 -isystem /usr/include/wasm32-wasi)
set(CMAKE_EXE_LINKER_FLAGS_INIT "-L/usr/lib/wasm32-wasi")
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
