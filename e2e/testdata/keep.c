// keep.c gives WebKit's small browser a disk. Driven by a test it asks the engine
// for storage that lives in memory; this answers with storage in a folder, which
// is what the same browser uses when a person drives it.
#include <stddef.h>
#include <stdlib.h>

void *webkit_website_data_manager_new(const char *first, ...);

void *webkit_website_data_manager_new_ephemeral(void) {
	const char *folder = getenv("KEEP_IN");
	return webkit_website_data_manager_new("base-data-directory", folder, "base-cache-directory", folder, NULL);
}
