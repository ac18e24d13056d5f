#pragma once
// SOCI, as the records use it. Debian's was configured with Boost and then wants its headers, 138 MB of them,
// only to bind tuples. That is a matter of templates in the headers; nothing in the library depends on it.

#include <soci/soci-config.h>
#undef SOCI_HAVE_BOOST
#undef SOCI_HAVE_BOOST_DATE_TIME
#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
