"""A film that is sent from a page: written to the disk piece by piece as it arrives, never whole in memory."""

from typing import Any

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.core.files.uploadhandler import FileUploadHandler, StopUpload
from django.http import HttpRequest

from fingertight.store.films.draft import Draft
from fingertight.store.films.folder import Film, free_bytes
from fingertight.store.log.promise import Refused
from fingertight.web.jobs.films import films_folder

FIELD = "film"
GB = 1024**3


class Arrived(UploadedFile):  # type: ignore[type-arg]
    """A film that has arrived, not kept yet."""

    def __init__(self, draft: Draft, name: str) -> None:
        super().__init__(None, name, size=draft.size)
        self.draft = draft

    def close(self) -> None:
        """Nothing stays of it unless it was kept."""
        self.draft.close()


class Arriving(FileUploadHandler):
    """Takes the one film of a form; `refused` says why it was not taken."""

    chunk_size = 1024 * 1024

    def __init__(self, request: HttpRequest) -> None:
        super().__init__(request)
        self.refused = ""
        self.draft: Draft | None = None

    def handle_raw_input(
        self, stream: Any, META: Any, content_length: int, boundary: Any, encoding: Any = None
    ) -> None:
        """Looked at before anything is read: has the disk room for it?"""
        free = free_bytes(films_folder())
        if content_length > free:
            self.refused = (
                f"The disk has room for {max(free, 0) / GB:.1f} GB more, and this film has {content_length / GB:.1f} "
                "GB. Make room on the disk, or send a smaller film."
            )

    def new_file(self, *args: Any, **kwargs: Any) -> None:
        """The film begins."""
        super().new_file(*args, **kwargs)
        if self.refused:
            raise StopUpload(connection_reset=True)
        if self.field_name != FIELD or self.draft is not None:
            self.refused = "Send one film at a time, with the form of this page."
            raise StopUpload(connection_reset=True)
        try:
            self.draft = Draft(films_folder())
        except OSError as fault:
            self._stop(fault)

    def receive_data_chunk(self, raw: bytes, start: int) -> None:
        """The next piece goes to the disk, and nowhere else."""
        assert self.draft is not None
        try:
            self.draft.write(raw)
        except OSError as fault:
            self._stop(fault)

    def file_complete(self, file_size: int) -> Arrived | None:
        """All that came of it."""
        return Arrived(self.draft, self.file_name or "") if self.draft is not None else None

    def upload_interrupted(self) -> None:
        """The end of the form never came: the sender is gone, or what was refused is read no further."""
        self.refused = self.refused or "The film was cut off on its way. Nothing is kept; send it again."
        if self.draft is not None:
            self.draft.close()

    def _stop(self, fault: OSError) -> None:
        if self.draft is not None:
            self.draft.close()
        self.refused = (
            f"The folder films cannot be written ({(fault.strerror or str(fault)).lower()}). Nothing is kept."
        )
        raise StopUpload(connection_reset=True)


def arrived_film(request: HttpRequest) -> Film:
    """The film that was sent with this form, kept. Raises Refused with a sentence; nothing is kept then."""
    film = request.FILES.get(FIELD)
    arriving = next((one for one in request.upload_handlers if isinstance(one, Arriving)), None)
    if arriving is not None and arriving.refused:
        raise Refused(arriving.refused)
    if not isinstance(film, Arrived):
        raise Refused("No film was chosen. Choose one, then press again.")
    try:
        if film.draft.size > settings.LARGEST_FILM_BYTES:
            raise Refused(f"A film may have {settings.LARGEST_FILM_BYTES // GB} GB at most. Nothing is kept.")
        return film.draft.keep(film.name or "")
    finally:
        film.close()
