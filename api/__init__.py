"""What people meet: the commands and the web service.

Parsing of requests and showing of results belong here, one folder per subject.
May import all of `estimator`; holds no arithmetic.
"""
