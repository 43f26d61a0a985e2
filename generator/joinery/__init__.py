"""The joinery stage: contacts are found, screws are placed along them, holes follow."""
