# What the library is linked with when it is built for another machine, the WebAssembly module or Windows: headers of the system,
# and the sources of two libraries that Debian has compiled for this machine alone (LINKMARGIN_SOURCES: where
# `apt-get source yaml-cpp utf8proc` put them).
set(LINKMARGIN_SOURCES "${PROJECT_SOURCE_DIR}/build/sources" CACHE PATH "Folder of the sources of yaml-cpp and utf8proc")
file(GLOB yaml_cpp ${LINKMARGIN_SOURCES}/yaml-cpp-*/src)
file(GLOB utf8proc ${LINKMARGIN_SOURCES}/utf8proc-*/utf8proc.c)
if(NOT yaml_cpp OR NOT utf8proc)
  message(FATAL_ERROR "no sources of yaml-cpp and utf8proc in ${LINKMARGIN_SOURCES}: sh .ci/fetch-sources fetches them")
endif()
cmake_path(GET yaml_cpp PARENT_PATH yaml_cpp)

# /usr/include as a whole would bring the machine's own C library.
set(headers ${CMAKE_CURRENT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${headers})
foreach(name boost nlohmann)
  file(CREATE_LINK /usr/include/${name} ${headers}/${name} SYMBOLIC)
endforeach()
foreach(target Boost::headers nlohmann_json::nlohmann_json)
  add_library(${target} INTERFACE IMPORTED)
  target_include_directories(${target} INTERFACE ${headers})
endforeach()
add_library(Eigen3::Eigen INTERFACE IMPORTED)
target_include_directories(Eigen3::Eigen INTERFACE /usr/include/eigen3)
if(CMAKE_SYSTEM_PROCESSOR STREQUAL wasm32)
  add_library(Threads::Threads INTERFACE IMPORTED)
  # One thread; doubles are not promoted to the 128 bits that long double has there.
  add_compile_definitions(BOOST_MATH_DISABLE_THREADS BOOST_MATH_PROMOTE_DOUBLE_POLICY=false BOOST_NO_CXX98_FUNCTION_BASE
    JSON_HAS_FILESYSTEM=0 JSON_HAS_EXPERIMENTAL_FILESYSTEM=0)
else()
  find_package(Threads REQUIRED)
endif()

# The parser alone: what builds nodes and writes YAML is not used.
file(GLOB sources ${yaml_cpp}/src/*.cpp)
list(FILTER sources EXCLUDE REGEX "/(emit[a-z]*|node[a-z_]*|parse|binary|convert|memory|ostream_wrapper)\\.cpp$")
add_library(yaml-cpp STATIC ${sources})
target_include_directories(yaml-cpp SYSTEM PUBLIC ${yaml_cpp}/include)
target_compile_definitions(yaml-cpp PUBLIC YAML_CPP_STATIC_DEFINE)
if(CMAKE_SYSTEM_PROCESSOR STREQUAL wasm32)
  # Of utf8proc the header: what is asked of it stands in the module (lib/wasm/utf8proc.cpp).
  file(CREATE_LINK /usr/include/utf8proc.h ${headers}/utf8proc.h SYMBOLIC)
  set(LINKMARGIN_UTF8PROC "")
  set(LINKMARGIN_UTF8PROC_HEADERS ${headers})
else()
  cmake_path(GET utf8proc PARENT_PATH utf8proc)
  add_library(linkmargin_utf8proc STATIC ${utf8proc}/utf8proc.c)
  target_include_directories(linkmargin_utf8proc SYSTEM PUBLIC ${utf8proc})
  target_compile_definitions(linkmargin_utf8proc PUBLIC UTF8PROC_STATIC)
  set(LINKMARGIN_UTF8PROC linkmargin_utf8proc)
  set(LINKMARGIN_UTF8PROC_HEADERS ${utf8proc})
endif()
