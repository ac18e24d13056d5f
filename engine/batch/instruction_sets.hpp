#pragma once
// The batch, compiled once for each instruction set; which of them this machine runs is asked in batch.cpp.

namespace glidewright {

struct BatchOrder;

void fly_order_baseline(const BatchOrder& order);  ///< four lanes to a vector: SSE2, NEON, WebAssembly
#if defined(__x86_64__)
void fly_order_avx2(const BatchOrder& order);
void fly_order_avx512(const BatchOrder& order);
#endif

}  // namespace glidewright
