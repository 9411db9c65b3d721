"""Static files under names that change with their content, modules that import one another included."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class NamedByContent(CompressedManifestStaticFilesStorage):
    """Rewrites the imports inside ES modules too: a page never joins a new module with an old one from a cache."""

    support_js_module_import_aggregation = True
