# Warnings are errors for our own code; -ffp-contract=off gives the same digits whether or not the
# machine has fused multiply-add. g++ 12 sees unset values in std::optional and in designated initialisers where
# there are none, and a std::string "restrict" of its own (its bug 105651), so those two are off; the sanitizer builds look for the real ones.
add_library(glidewright_options INTERFACE)
target_compile_options(glidewright_options INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -ffp-contract=off)
# Errors with the compiler that users have; clang builds only the search for hostile input, and warns of other things.
target_compile_options(glidewright_options INTERFACE
  $<$<CXX_COMPILER_ID:GNU>:-Wno-maybe-uninitialized;-Wno-restrict;-Werror>)
# Precompiled headers are for the builds with tests: with them and -O3, g++ 12 warns of std::string writing past its end
# where it does not, so the release and bench presets leave them out. This lets ccache keep
# what is compiled with them.
target_compile_options(glidewright_options INTERFACE $<$<CXX_COMPILER_ID:GNU>:-fpch-preprocess>)
target_include_directories(glidewright_options INTERFACE ${PROJECT_SOURCE_DIR})
