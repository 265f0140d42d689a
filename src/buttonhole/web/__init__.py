"""Pages, forms and the API: what people see in a browser."""

from buttonhole.web.serving import serve

__all__ = ["serve"]
