# What the project's own targets are compiled with. Linked PRIVATE inside $<BUILD_INTERFACE:...>, so that nobody
# who uses the library inherits it.
option(LINKMARGIN_WERROR "Treat warnings as errors" OFF)

add_library(linkmargin_flags INTERFACE)
target_compile_options(linkmargin_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow
  -ffp-contract=off  # the predicates must give the same answer on every machine
  $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict>  # GCC 12 warns of "text" + std::string by mistake (GCC bug 105651)
  # ... and, where a folder is compiled as one, of strings in variants, which it takes for unset.
  $<$<AND:$<CXX_COMPILER_ID:GNU>,$<BOOL:${LINKMARGIN_UNITY}>>:-Wno-maybe-uninitialized>
  $<$<CXX_COMPILER_ID:Clang>:-Wno-sign-conversion>  # which -Wconversion of GCC leaves out in C++
  $<$<BOOL:${LINKMARGIN_WERROR}>:-Werror>)
if(LINKMARGIN_SANITIZE)
  target_compile_options(linkmargin_flags INTERFACE
    -fsanitize=${LINKMARGIN_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer
    # Found by the address sanitizer as well, where they matter; they double the time of building.
    -fno-sanitize=null,alignment,object-size,vptr,nonnull-attribute,returns-nonnull-attribute)
  target_link_options(linkmargin_flags INTERFACE -fsanitize=${LINKMARGIN_SANITIZE})
endif()
