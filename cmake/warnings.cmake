# Warnings are errors for our own code; -ffp-contract=off gives the same digits whether or not the
# machine has fused multiply-add.
add_library(glidewright_options INTERFACE)
target_compile_options(glidewright_options INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Werror -ffp-contract=off)
target_include_directories(glidewright_options INTERFACE ${PROJECT_SOURCE_DIR})
