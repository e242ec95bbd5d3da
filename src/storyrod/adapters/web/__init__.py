"""The page: the whole job in a browser, served from this machine to this machine.

Routes and views read one `Plan` and call what other adapters offer; nothing of substance is decided here.
"""

from storyrod.adapters.web._app import make_app
from storyrod.adapters.web._certificate import Certificate
from storyrod.adapters.web._settings import Settings

__all__ = ["Certificate", "Settings", "make_app"]
