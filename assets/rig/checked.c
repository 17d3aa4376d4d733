/* What a compiler calls in place of functions of the C library where it knows how much room there is: more than fits
   ends the wake. The library's own would end the program, with calls that say nothing of what was wrong. */
#include <stdarg.h>

static void fits(size_t bytes, size_t room)
{
    if (bytes > room) end_wake(FAIL_BOUNDS, 0);
}

INSTEAD void *__memcpy_chk(void *to, const void *from, size_t bytes, size_t room)
{
    fits(bytes, room);
    return memcpy(to, from, bytes);
}

INSTEAD void *__memmove_chk(void *to, const void *from, size_t bytes, size_t room)
{
    fits(bytes, room);
    return memmove(to, from, bytes);
}

INSTEAD void *__memset_chk(void *to, int value, size_t bytes, size_t room)
{
    fits(bytes, room);
    return memset(to, value, bytes);
}

INSTEAD char *__strcpy_chk(char *to, const char *from, size_t room)
{
    fits(strlen(from) + 1, room);
    return strcpy(to, from);
}

INSTEAD char *__strncpy_chk(char *to, const char *from, size_t bytes, size_t room)
{
    fits(bytes, room);
    return strncpy(to, from, bytes);
}

INSTEAD char *__strcat_chk(char *to, const char *from, size_t room)
{
    fits(strlen(to) + strlen(from) + 1, room);
    return strcat(to, from);
}

INSTEAD char *__strncat_chk(char *to, const char *from, size_t most, size_t room)
{
    fits(strlen(to) + strnlen(from, most) + 1, room);
    return strncat(to, from, most);
}

INSTEAD int __vsnprintf_chk(char *to, size_t most, int flag, size_t room, const char *format, va_list with)
{
    (void)flag;
    fits(most, room);
    return vsnprintf(to, most, format, with);
}

INSTEAD int __vsprintf_chk(char *to, int flag, size_t room, const char *format, va_list with)
{
    int count = vsnprintf(to, room, format, with);
    (void)flag;
    if (count >= 0) fits((size_t)count + 1, room);
    return count;
}

INSTEAD int __snprintf_chk(char *to, size_t most, int flag, size_t room, const char *format, ...)
{
    int count;
    va_list with;
    va_start(with, format);
    count = __vsnprintf_chk(to, most, flag, room, format, with);
    va_end(with);
    return count;
}

INSTEAD int __sprintf_chk(char *to, int flag, size_t room, const char *format, ...)
{
    int count;
    va_list with;
    va_start(with, format);
    count = __vsprintf_chk(to, flag, room, format, with);
    va_end(with);
    return count;
}
