"""Papers to print: the sheet as one page of HTML, and gauge and rim at true size as HTML and PDF."""
