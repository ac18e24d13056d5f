#include <cstdio>

int main() {
  std::puts("glidewright");
  return 0;
}
