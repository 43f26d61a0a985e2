"""The table of all keys of a design file, record by record; the first record is the file itself."""

from generator.design.keys import Record
from generator.design.keys_of_parts import PART_RECORDS
from generator.design.keys_of_sections import SECTION_RECORDS, WHOLE_FILE
from generator.design.keys_of_work import WORK_RECORDS

RECORDS: tuple[Record, ...] = (WHOLE_FILE, *SECTION_RECORDS, *PART_RECORDS, *WORK_RECORDS)


def find_record(name: str) -> Record:
    """Return the record of a name.

    Raises:
        StopIteration: There is none; a fault of ours.
    """
    return next(record for record in RECORDS if record.name == name)
