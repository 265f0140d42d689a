"""The photos looked at last, with their cards found: a nudge must not wait for the search."""

import threading
from collections import OrderedDict

from buttonhole.desk.read_photo import SeenPhoto, see_photo
from buttonhole.record.files import FileShelf

MOST = 4  # each holds one picture in memory

Key = tuple[str, tuple[float, float] | None]


class SeenPhotos:
    """Photos by hash and printed scale; lost when the server stops, found again from the shelf."""

    def __init__(self, shelf: FileShelf) -> None:
        self.shelf = shelf
        self._found: OrderedDict[Key, SeenPhoto] = OrderedDict()
        self._lock = threading.Lock()

    def see(self, name: str, bars: tuple[float, float] | None) -> SeenPhoto:
        """A photo with its card found.

        Raises
        ------
        BadInput
            No such photo.
        PhotoRefused
            One that can't be measured in.
        """
        key = (name, bars)
        with self._lock:
            if key in self._found:
                self._found.move_to_end(key)
                return self._found[key]
            seen = see_photo(self.shelf.get(name), bars)
            self._found[key] = seen
            while len(self._found) > MOST:
                self._found.popitem(last=False)
            return seen
