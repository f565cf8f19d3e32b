/* Wine before 9 has no bcryptprimitives.dll, which the Rust library draws its hash seeds from on Windows. This
   stands in for it in the tests and goes into no package. */
#include <stddef.h>

typedef unsigned char BYTE;
typedef int BOOL;

/* RtlGenRandom, by the name that advapi32.dll exports it under. */
__declspec(dllimport) BYTE __stdcall SystemFunction036(void *buffer, unsigned long length);

__declspec(dllexport) BOOL __stdcall ProcessPrng(BYTE *buffer, size_t length)
{
    return SystemFunction036(buffer, (unsigned long)length);
}
