"""Text messages by a SIM card in a modem: gammu-smsd speaks with the modem, and this with the tables of gammu-smsd."""
